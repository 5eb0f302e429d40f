from __future__ import annotations

from itertools import pairwise

from reviewkit.rehearse.clock import LEAD_MS, clock_data
from tests.rehearse.sample import last_document, sheet


def test_stretches_follow_each_other_without_a_gap() -> None:
    data = clock_data(sheet())
    stretches = data["stretches"]
    assert stretches[0]["start"] == -LEAD_MS
    assert all(before["end"] == after["start"] for before, after in pairwise(stretches))
    assert stretches[-1]["end"] == data["total"] == 350_000


def test_rest_shows_what_comes_and_what_to_say_before_it() -> None:
    stretches = clock_data(sheet())["stretches"]
    rest = next(one for one in stretches if one["kind"] == "rest")
    assert rest["next"] == "Single-arm row, change sides halfway"
    assert rest["say"][0]["text"] == "flat back"


def test_suggestions_are_left_off_and_what_was_missing_is_marked() -> None:
    data = clock_data(sheet(document=last_document()))
    squat = next(one for one in data["stretches"] if one["name"] == "Goblet squat")
    assert [(one["text"], one["last"]) for one in squat["say"]] == [
        ("knees over the toes", ""),
        ("chest tall", "late"),
        ("breathe out as you come up", "missing"),
    ]
