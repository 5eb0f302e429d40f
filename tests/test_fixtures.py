"""Every folder of ``fixtures/`` is whole, and what it says of its class holds together."""

from __future__ import annotations

from difflib import SequenceMatcher
from itertools import pairwise
from pathlib import Path

import pytest

from reviewkit.evaluate import LabelledClass
from reviewkit.read import read_transcript
from reviewkit.words import split_words
from tests.corpus import FIXTURES, class_folders, load_class, load_classes
from tests.forms import FORMS
from tests.mishearing import write_figures
from tests.rewrite_transcripts import SHOWN

FILES = {"plan.csv", "words.csv", "said.csv", "truth.json", "why.md"}
LABELS = {
    "form", "safety", "breathing", "option", "motivation", "time_call", "announcement", "rest",
    "promise", "chat",
}  # fmt: skip
ANOMALIES = {
    "long", "short", "missing_point", "late_point", "no_breathing", "wrong_time_call", "skipped",
    "added", "swapped", "order", "broken_promise", "contradiction", "risky_talk", "no_cool_down",
    "no_warm_up", "side_imbalance", "no_option", "dead_air",
}  # fmt: skip
FOLDERS = [*class_folders(), *class_folders(FIXTURES / "kept-back")]
TRANSCRIPTS = {form.file_name for form in FORMS.values()}
SHOWN_FILES = [
    FIXTURES / name / FORMS[form].file_name for name, forms in SHOWN.items() for form in forms
]


@pytest.fixture(scope="module", params=FOLDERS, ids=lambda path: path.name)
def labelled(request: pytest.FixtureRequest) -> LabelledClass:
    return load_class(request.param)


def test_there_are_classes() -> None:
    assert FOLDERS


def test_a_folder_without_classes_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match="no labelled classes"):
        load_classes(tmp_path)


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
def test_a_folder_holds_its_files_and_no_others(folder: Path) -> None:
    found = {path.name for path in folder.iterdir()}
    assert found >= FILES
    assert found - FILES <= TRANSCRIPTS


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
def test_why_is_one_line(folder: Path) -> None:
    lines = (folder / "why.md").read_text("utf-8").splitlines()
    assert len(lines) == 1
    assert lines[0].endswith(".")


def test_words_come_in_order_inside_the_class(labelled: LabelledClass) -> None:
    assert labelled.words
    assert all(before.start_ms <= after.start_ms for before, after in pairwise(labelled.words))
    assert all(word.start_ms < word.end_ms for word in labelled.words)
    assert labelled.words[-1].end_ms <= labelled.length_ms
    assert all(word.text == word.text.strip().lower() != "" for word in labelled.words)


def test_lines_are_the_words(labelled: LabelledClass) -> None:
    said = [word for line in labelled.said for word in line.text.split()]
    assert said == [word.text for word in labelled.words]
    assert all(before.start_ms <= after.start_ms for before, after in pairwise(labelled.said))


def test_lines_carry_known_labels_and_planned_points(labelled: LabelledClass) -> None:
    planned = {point for row in labelled.plan.rows for point in row.must_say}
    for line in labelled.said:
        assert set(line.labels) <= LABELS, line.text
        assert set(line.points) <= planned, line.text
        assert line.claimed_left is None or line.claimed_left > 0


def test_intervals_follow_each_other_inside_the_class(labelled: LabelledClass) -> None:
    assert all(one.start_ms < one.end_ms <= labelled.length_ms for one in labelled.intervals)
    for before, after in pairwise(labelled.intervals):
        assert before.end_ms <= after.start_ms


def test_intervals_match_their_plan_rows(labelled: LabelledClass) -> None:
    rows = [one.plan_row for one in labelled.intervals if one.plan_row]
    assert len(rows) == len(set(rows))
    for one in labelled.intervals:
        assert (one.plan_row is None) == (one.status == "added")
        assert (one.planned_move is not None) == (one.status == "swapped")
        if one.plan_row:
            row = labelled.plan.rows[one.plan_row - 1]
            assert (row.block, row.round, row.side) == (one.block, one.round, one.side)
            assert row.move == one.asked_move


def test_anomalies_are_of_known_kinds(labelled: LabelledClass) -> None:
    assert labelled.anomalies
    assert {one.kind for one in labelled.anomalies} <= ANOMALIES


def test_shown_transcripts_are_all_there() -> None:
    found = {path for folder in FOLDERS for path in folder.iterdir() if path.name in TRANSCRIPTS}
    assert found == set(SHOWN_FILES)


@pytest.mark.parametrize("path", SHOWN_FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_shown_transcripts_hold_the_words(path: Path) -> None:
    labelled = load_class(path.parent)
    talk = split_words(read_transcript(path))
    heard = [word.norm for word in talk.words]
    exact = [[word.text for word in labelled.words], []]
    exact[1] = [word.text for word in write_figures(labelled.words)]
    assert max(SequenceMatcher(None, heard, one, autojunk=False).ratio() for one in exact) > 0.9
