from __future__ import annotations

from pathlib import PurePosixPath

import pytest

from reviewkit.batch.pairing import Pairing, kind_by_name, pair_files


def paired(*names: str, speech: tuple[str, ...] = ()) -> Pairing:
    paths = [PurePosixPath(name) for name in names]
    return pair_files(paths, lambda path: path.as_posix() in speech)


def pairs(found: Pairing) -> dict[str, str | None]:
    return {
        one.transcript.as_posix(): one.plan.as_posix() if one.plan else None for one in found.pairs
    }


def test_other_files_are_left_alone() -> None:
    found = paired("monday.mp4", "notes.docx", "README", "monday.vtt")
    assert pairs(found) == {"monday.vtt": None}
    assert not found.refused
    assert not found.unused


@pytest.mark.parametrize(
    ("transcript", "plan"),
    [
        ("monday.vtt", "monday.csv"),
        ("monday.srt", "monday.plan.csv"),
        ("Monday.en.vtt", "monday-plan.txt"),
        ("monday-captions.vtt", "monday plan.xlsx"),
        ("monday.pt-br.ttml", "Monday_Plan.csv"),
        ("spring/monday.json", "spring/monday.txt"),
        ("captions.vtt", "plan.csv"),
    ],
)
def test_the_same_name_belongs_together(transcript: str, plan: str) -> None:
    found = paired(plan, transcript)
    assert pairs(found) == {transcript: plan}
    assert not found.unused


def test_a_plan_called_plan_holds_for_its_folder_alone() -> None:
    found = paired("plan.csv", "a.vtt", "b.vtt", "b.csv", "deeper/c.vtt")
    assert pairs(found) == {"a.vtt": "plan.csv", "b.vtt": "b.csv", "deeper/c.vtt": None}
    assert not found.unused


def test_tables_and_texts_are_told_by_content_where_names_leave_it_open() -> None:
    assert kind_by_name(PurePosixPath("a.txt")) == "either"
    assert kind_by_name(PurePosixPath("a.plan.txt")) == "plan"
    found = paired("a.txt", "a-plan.txt", "b.csv", "b.vtt", speech=("a.txt", "b.csv"))
    assert pairs(found) == {"a.txt": "a-plan.txt", "b.vtt": "b.csv"}


def test_what_could_be_meant_twice_is_refused_with_its_reason() -> None:
    found = paired("a.vtt", "a.srt", "b.vtt", "b.csv", "b-plan.txt", "c.vtt")
    assert pairs(found) == {"c.vtt": None}
    assert {one.path.name: one.reason for one in found.refused} == {
        "a.srt": "has the name of another transcript, a.vtt; keep one, or rename them",
        "a.vtt": "has the name of another transcript, a.srt; keep one, or rename them",
        "b.vtt": "has more than one plan: b-plan.txt and b.csv; keep one, or rename them",
    }


def test_plans_of_nobody_are_named() -> None:
    found = paired("a.vtt", "a.csv", "b.csv", "plan.txt")
    assert [one.path.name for one in found.unused] == ["b.csv", "plan.txt"]


def test_names_of_classes_differ() -> None:
    found = paired("a.vtt", "x/a.vtt", "a b.vtt", "plan.csv")
    assert [one.name for one in found.pairs] == ["a", "a b", "x/a"]
