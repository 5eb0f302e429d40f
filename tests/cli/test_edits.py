from __future__ import annotations

import json
from pathlib import Path

import pytest

from reviewkit.cli.app import main
from reviewkit.edits import FILES
from tests.web.visitor import PLAN, TALK


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Write the report of a small class and give its folder."""
    folder = tmp_path_factory.mktemp("class")
    (folder / "class.vtt").write_text(TALK, "utf-8")
    (folder / "plan.txt").write_text(PLAN, "utf-8")
    command = ["review", str(folder / "class.vtt"), "--plan", str(folder / "plan.txt")]
    with pytest.raises(SystemExit):
        main([*command, "--out", str(folder / "report")])
    return folder / "report"


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as ended:
        main(["edits", *map(str, arguments)])
    return int(ended.value.code or 0)


def test_all_files_are_written_and_replaced(
    report: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "edit"
    none_kept = ("--data", tmp_path / "nothing")
    assert run(report, "--out", out, *none_kept) == 0
    (out / "mine.txt").write_text("kept", "utf-8")
    assert run(report / "review.json", "--out", out, "--rate", "25", *none_kept) == 0
    written = {str(one.relative_to(out)) for one in out.rglob("*") if one.is_file()}
    assert written == {*FILES, "mine.txt"}
    said = capsys.readouterr().out
    assert "to show" in said
    assert f"Begin with {out / 'edits.md'}" in said
    assert not (tmp_path / "nothing").exists()


def test_words_of_a_kept_class_are_offered_in_another(report: Path, tmp_path: Path) -> None:
    talk = tmp_path / "other.vtt"
    talk.write_text(
        TALK.replace("sit back into your heels and keep your chest tall", "off we go"), "utf-8"
    )
    plan = report.parent / "plan.txt"
    for transcript in (report.parent / "class.vtt", talk):
        kept = ["review", str(transcript), "--plan", str(plan), "--keep"]
        with pytest.raises(SystemExit):
            main([*kept, "--data", str(tmp_path / "data")])
    assert run(2, "--out", tmp_path / "edit", "--data", tmp_path / "data") == 0
    table = (tmp_path / "edit" / "record.csv").read_text("utf-8")
    assert "Sit back into your heels and keep your chest tall." in table
    assert run(1, "--out", tmp_path / "edit", "--data", tmp_path / "data") == 0
    assert "chest tall" not in (tmp_path / "edit" / "record.csv").read_text("utf-8")


@pytest.mark.parametrize(
    ("document", "rate", "said"),
    [
        (None, "25", "there is no such file"),
        ({"format": "other"}, "25", "is no review"),
        ({"format": "reviewkit.review/1"}, "25", "does not hold what it was made from"),
        (None, "23", 'no frame rate is called "23"; choose of 24, 25, 29.97-drop'),
    ],
    ids=["no file", "no review", "no transcript in it", "no rate"],
)
def test_bad_input_is_one_sentence_and_writes_nothing(
    document: dict[str, str] | None,
    rate: str,
    said: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    path = tmp_path / "review.json"
    if document is not None:
        path.write_text(json.dumps(document), "utf-8")
    assert run(path, "--out", tmp_path / "edit", "--rate", rate) == 2
    error = capsys.readouterr().err
    assert said in error
    assert len(error.splitlines()) == 1
    assert not (tmp_path / "edit").exists()
