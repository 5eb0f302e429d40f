from __future__ import annotations

from pathlib import Path

import pytest

from reviewkit.cli.app import main

DEMO = Path(__file__).parents[2] / "fixtures" / "harbour-evening"
PLAN = str(DEMO / "plan.csv")


def run(*arguments: str) -> int:
    with pytest.raises(SystemExit) as left:
        main(["explain", *arguments])
    return int(left.value.code or 0)


def test_an_interval_is_explained(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(str(DEMO / "blocks.txt"), "--plan", PLAN, "--interval", "4") == 0
    shown = capsys.readouterr().out
    assert shown.startswith("Interval 4: Arm swings")
    assert all(len(line) <= 80 for line in shown.splitlines())
    assert "\nStart " in shown
    assert "\nEnd " in shown
    assert "the words " in shown


@pytest.mark.parametrize("number", ["0", "99"])
def test_an_interval_that_is_not_there_is_one_line(
    number: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(str(DEMO / "captions.vtt"), "--plan", PLAN, "--interval", number) == 2
    error = capsys.readouterr().err
    assert error == f"plan.csv: has no interval {number}; it has rows 1 to 19\n"


def test_a_plan_and_a_number_are_needed(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(str(DEMO / "captions.vtt"), "--interval", "1") == 2
    assert "--plan" in capsys.readouterr().err
