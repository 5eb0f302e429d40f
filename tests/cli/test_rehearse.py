from __future__ import annotations

import json
from pathlib import Path

import pytest

from reviewkit.cli.app import main
from reviewkit.store import open_store
from tests.rehearse.sample import CROWDED, PLAN, last_document


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.txt"
    path.write_text(PLAN, "utf-8")
    return path


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as ended:
        main(["rehearse", *map(str, arguments)])
    return int(ended.value.code or 0)


def test_sheet_and_clock_are_written_and_replaced(
    plan: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "next"
    assert run(plan, "--out", out) == 0
    (out / "mine.txt").write_text("kept", "utf-8")
    assert run(plan, "--out", out) == 0
    assert {one.name for one in out.iterdir()} == {
        "cue-sheet.html",
        "cue-sheet.md",
        "class-clock.html",
        "mine.txt",
    }
    assert "6 intervals, 5:50 in all." in capsys.readouterr().out


def test_last_time_stands_out(plan: Path, tmp_path: Path) -> None:
    last = tmp_path / "review.json"
    last.write_text(json.dumps(last_document()), "utf-8")
    assert run(plan, "--out", tmp_path / "next", "--last", last) == 0
    assert "late last time" in (tmp_path / "next" / "cue-sheet.md").read_text("utf-8")


def test_a_review_is_found_by_its_folder_and_by_its_number(
    plan: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "report").mkdir()
    (tmp_path / "report" / "review.json").write_text(json.dumps(last_document()), "utf-8")
    assert run(plan, "--out", tmp_path / "next", "--last", tmp_path / "report") == 0
    open_store(tmp_path / "data").close()
    capsys.readouterr()
    kept = ("--last", "7", "--data", tmp_path / "data")
    assert run(plan, "--out", tmp_path / "next", *kept) == 2
    assert "there is no review 7" in capsys.readouterr().err


def test_points_that_cannot_be_said_are_warned_of(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = tmp_path / "plan.txt"
    plan.write_text(CROWDED, "utf-8")
    assert run(plan, "--out", tmp_path / "next") == 0
    assert "Warning: Interval 1, Goblet squat" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "said"),
    [("{}", "is no review document"), (None, "there is no such file")],
    ids=["no review", "no file"],
)
def test_a_bad_review_is_one_sentence_and_writes_nothing(
    text: str | None, said: str, plan: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    last = tmp_path / "review.json"
    if text is not None:
        last.write_text(text, "utf-8")
    assert run(plan, "--out", tmp_path / "next", "--last", last) == 2
    error = capsys.readouterr().err
    assert said in error
    assert len(error.splitlines()) == 1
    assert not (tmp_path / "next").exists()
