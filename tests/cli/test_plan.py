"""``reviewkit plan``: the timetable, and conversion between the forms of a plan."""

from __future__ import annotations

from pathlib import Path

import pytest

from reviewkit.cli.app import main
from reviewkit.read import read_plan

TEXT = """\
Harbour Steps, 20 minutes
Warm-up: 30s each
- March
Main, 2 rounds: 40s work, 20s rest
- Goblet squat (say: knees out, chest tall)
- Row [slow], each side
"""


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    path = tmp_path / "plan.txt"
    path.write_text(TEXT)
    return path


def run(*arguments: str | Path) -> int:
    with pytest.raises(SystemExit) as caught:
        main([str(argument) for argument in arguments])
    assert isinstance(caught.value.code, int)
    return caught.value.code


def test_the_timetable_fits_80_columns(
    plan_file: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    assert run("plan", plan_file) == 0
    out = capsys.readouterr().out
    assert "\x1b" not in out
    assert max(len(line) for line in out.splitlines()) <= 80
    lines = [" ".join(line.split()) for line in out.splitlines()]
    assert "Main, round 1" in lines
    assert "0:30 Goblet squat 40s 20s knees out; chest tall" in lines
    assert "1:30 Row each 40s 20s" in lines
    assert "2:30 Goblet squat 40s 20s" in lines
    assert lines[-1] == ("5 intervals, 3:10 of work, 4:10 in all, announced as 20 minutes")


@pytest.mark.parametrize("ending", ["csv", "xlsx", "txt"])
def test_a_plan_is_converted_and_reads_the_same(plan_file: Path, ending: str) -> None:
    out = plan_file.with_name(f"out.{ending}")
    assert run("plan", plan_file, "--out", out) == 0
    assert read_plan(out).rows == read_plan(plan_file).rows


def test_a_plan_is_converted_on_standard_output(
    plan_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("plan", plan_file, "--to", "csv") == 0
    assert capsys.readouterr().out.splitlines()[:2] == [
        "block,kind,round,move,side,work,rest,must_say",
        "Warm-up,warm-up,1,March,,30s,,",
    ]


def test_a_table_with_accents_is_marked_for_spreadsheets(tmp_path: Path) -> None:
    source, out = tmp_path / "plan.txt", tmp_path / "plan.csv"
    source.write_text("- Pli\u00e9, 45s\n", encoding="utf-8")
    assert run("plan", source, "--out", out) == 0
    assert out.read_bytes().startswith(b"\xef\xbb\xbf")
    assert read_plan(out).rows[0].move == "Pli\u00e9"


def test_a_file_is_replaced_only_by_force(
    plan_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = plan_file.with_name("out.csv")
    out.write_text("mine")
    assert run("plan", plan_file, "--out", out) == 2
    assert capsys.readouterr().err == f"{out}: exists already; give --force to replace it\n"
    assert out.read_text() == "mine"
    assert run("plan", plan_file, "--out", out, "--force") == 0
    assert out.read_text() != "mine"


def test_options_that_do_not_go_together(
    plan_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("plan", plan_file, "--to", "xlsx") == 2
    assert "add --out FILE" in capsys.readouterr().err
    assert run("plan", plan_file, "--out", "plan.pdf") == 2
    assert "add --to csv, xlsx or text" in capsys.readouterr().err


def test_every_problem_of_a_plan_is_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "plan.txt"
    path.write_text("Main: 40z work\n- Squat, 5q\n")
    assert run("plan", path) == 2
    assert capsys.readouterr().err.splitlines() == [
        'plan.txt, line 1: "40z work" is no length of time; write 40s, 1m30s or 0:45',
        'plan.txt, line 2: "5q" is no length of time; write 5s, 1m30s or 0:45',
    ]
