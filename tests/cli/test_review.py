from __future__ import annotations

import json
import sys
from pathlib import Path
from types import ModuleType

import pytest

import reviewkit.kept.keeping  # noqa: F401 - before its review is stood in for
from reviewkit.cli.app import main
from reviewkit.store import open_store
from tests.report.sample import sample_review

DEMO = Path(__file__).parents[2] / "fixtures" / "harbour-evening"
TRANSCRIPT, PLAN = str(DEMO / "captions.vtt"), str(DEMO / "plan.csv")


@pytest.fixture(autouse=True)
def _reviewed_by_hand(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let every class be the sample: what is heard is tested elsewhere."""
    stand_in = ModuleType("reviewkit.review")
    stand_in.review = lambda *_, **__: sample_review()  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "reviewkit.review", stand_in)


def run(*arguments: str) -> int:
    with pytest.raises(SystemExit) as left:
        main(arguments)
    return int(left.value.code or 0)


def test_a_review_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("review", TRANSCRIPT, "--plan", PLAN) == 0
    assert "Before publishing" in capsys.readouterr().out


def test_the_document_alone_is_written_and_written_again(tmp_path: Path) -> None:
    target = tmp_path / "review.json"
    for _ in range(2):
        assert run("review", TRANSCRIPT, "--json", str(target)) == 0
        assert json.loads(target.read_text("utf-8"))["format"] == "reviewkit.review/1"
    assert [path.name for path in tmp_path.iterdir()] == ["review.json"]


def test_the_document_is_printed_alone(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("review", TRANSCRIPT, "--json", "-") == 0
    assert json.loads(capsys.readouterr().out)["format"] == "reviewkit.review/1"


def test_the_folder_is_written(tmp_path: Path) -> None:
    assert run("review", TRANSCRIPT, "--plan", PLAN, "--out", str(tmp_path / "report")) == 0
    assert len(list((tmp_path / "report").iterdir())) == 5


def test_a_review_is_kept(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kept = ["--keep", "--data", str(tmp_path / "data")]
    assert run("review", TRANSCRIPT, "--plan", PLAN, "--tolerance", "5s", *kept) == 0
    assert f"Kept as review 1 in {tmp_path / 'data'}" in capsys.readouterr().err
    with open_store(tmp_path / "data") as store:
        stored = store.get_review(1)
    assert stored.transcript == Path(TRANSCRIPT).read_bytes()
    assert stored.tolerance_ms == 5000
    assert json.loads(stored.document or "")["format"] == "reviewkit.review/1"


def test_the_demo_needs_no_files(tmp_path: Path) -> None:
    assert run("demo", "--out", str(tmp_path / "report")) == 0
    assert (tmp_path / "report" / "review.html").is_file()


@pytest.mark.parametrize(
    ("verdicts", "status"),
    [("long", 1), ("on time", 1), ("order", 0), ("no_warm_up,broken", 1), ("", 0)],
)
def test_scripts_can_stop_at_a_verdict(verdicts: str, status: int) -> None:
    assert run("review", TRANSCRIPT, "--fail-on", verdicts) == status


@pytest.mark.parametrize(
    ("arguments", "problem"),
    [
        (["--fail-on", "ugly"], 'no verdict is called "ugly"'),
        (["--tolerance", "some"], '"some" is no length of time; write 5s or 0:05'),
        (["--json", TRANSCRIPT], "is an input of the review; name another file"),
        (["--json", "nowhere/at/all.json"], "there is no folder"),
        (["--plan", "nowhere.csv"], "there is no such file"),
        (["--plan", "nowhere.csv", "--keep"], "there is no such file"),
        (["--lexicon", "mine", "--keep"], "--lexicon: does not go with --keep"),
    ],
)
def test_bad_options_are_one_line(
    arguments: list[str], problem: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("review", TRANSCRIPT, *arguments) == 2
    error = capsys.readouterr().err
    assert problem in error
    assert len(error.splitlines()) == 1


def test_the_schema_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("schema") == 0
    assert json.loads(capsys.readouterr().out)["$id"] == "urn:reviewkit:review:1"
