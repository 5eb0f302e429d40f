from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from reviewkit.model import Review
from reviewkit.web.track import draw_track
from tests.report.hostile import hostile_review
from tests.report.sample import corrected_review, sample_review

ABOUT = "/reviews/7/about/"


def drawing(review: Review) -> ElementTree.Element:
    return ElementTree.fromstring(draw_track(review, ABOUT).svg)  # noqa: S314 - our own


def items(root: ElementTree.Element) -> dict[str, ElementTree.Element]:
    return {one.attrib["data-item"]: one for one in root.iter("a")}


def looks(item: ElementTree.Element) -> set[str]:
    return {one.attrib["class"] for one in item.iter() if "class" in one.attrib}


@pytest.mark.parametrize("review", [sample_review(), hostile_review()], ids=["sample", "hostile"])
def test_the_drawing_is_well_formed_and_carries_neither_style_nor_script(review: Review) -> None:
    root = drawing(review)
    for one in root.iter():
        assert one.tag in {"svg", "a", "title", "rect", "line", "circle", "path", "text"}
        assert not {name for name in one.attrib if name == "style" or name.startswith("on")}


def test_every_interval_can_be_chosen_in_words() -> None:
    review = sample_review()
    found = items(drawing(review))
    for one in review.heard.intervals:
        item = found[f"interval-{one.id}"]
        assert item.attrib["href"] == f"{ABOUT}interval-{one.id}"
        assert one.move in item.attrib["aria-label"]


def test_moments_are_shares_of_the_width() -> None:
    track = draw_track(sample_review(), ABOUT)
    for name in ("x", "x1", "x2", "cx"):
        shares = re.findall(rf' {name}="([\d.]+)%"', track.svg)
        assert all(0 <= float(share) <= 100 for share in shares)
    squat = items(drawing(sample_review()))["interval-i2"]
    actual = next(one for one in squat.iter("rect") if "actual" in one.attrib["class"])
    assert float(actual.attrib["x"].rstrip("%")) == pytest.approx(
        100 * 100_600 / track.end_ms, abs=1e-3
    )


def test_long_and_short_stand_out_until_they_are_set_aside() -> None:
    assert "actual off" in looks(items(drawing(sample_review()))["interval-i2"])
    assert "actual off" not in looks(items(drawing(corrected_review()))["interval-i2"])


def test_a_skipped_interval_has_a_planned_box_alone() -> None:
    assert looks(items(drawing(sample_review()))["interval-i13"]) == {"item", "planned skipped"}


def test_wrong_calls_and_flags_are_crosses_until_they_are_set_aside() -> None:
    before, after = items(drawing(sample_review())), items(drawing(corrected_review()))
    for item in ("call-66300", "flag-dead_air-302000"):
        assert "cross" in looks(before[item])
        assert "pin" in looks(after[item])
    assert "pin" in looks(before["call-272700"])


def test_cues_stand_in_the_lane_of_their_kind() -> None:
    lanes = {
        item.split("-")[1]: one.attrib["data-lane"]
        for item, one in items(drawing(sample_review())).items()
        if item.startswith("heard-")
    }
    assert lanes == {
        "form": "form",
        "safety": "safety",
        "breathing": "breathing",
        "option": "options",
        "motivation": "praise",
    }


def test_long_silences_can_be_chosen() -> None:
    found = [one for item, one in items(drawing(sample_review())).items() if "silence" in item]
    assert found
    assert all(one.attrib["aria-label"].startswith("Silence of ") for one in found)


def test_a_class_without_a_word_is_drawn() -> None:
    sample = sample_review()
    heard = replace(sample.heard, intervals=(), marks=(), talk=replace(sample.heard.talk, words=()))
    nothing = replace(
        sample.findings, talk=(), moves=(), time_calls=(), promises=(), flags=(), fixes=()
    )
    assert not items(drawing(replace(sample, heard=heard, findings=nothing)))
