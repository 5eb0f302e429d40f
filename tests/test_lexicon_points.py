"""The bundled points: whole, telling, heard by their own words and not by the opposite."""

from __future__ import annotations

import csv
from collections import Counter
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from reviewkit.frames.evidence import cover_of_points
from reviewkit.frames.grammar import OPPOSITES, Frame
from reviewkit.frames.polarity import asks_for_opposite, point_frames
from reviewkit.frames.utterances import Utterance
from reviewkit.model import Lexicon, Line, Point
from reviewkit.read import read_lexicon

FOLDER = Path(__file__).parent.parent / "lexicons" / "en"


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def labels(name: str) -> set[str]:
    return {label for line in lexicon().lists[name] for label in line.label.split()}


every_point = pytest.mark.parametrize("point", lexicon().points, ids=lambda point: point.id)


def test_there_are_enough_points_of_both_kinds() -> None:
    kinds = Counter(point.kind for point in lexicon().points)
    assert len(lexicon().points) >= 150
    assert set(kinds) == {"form", "safety"}
    assert min(kinds.values()) >= 40


@every_point
def test_a_point_is_whole(point: Point) -> None:
    assert point.why.endswith(".")
    assert point.line.endswith(".")
    assert len(point.phrases) >= 3
    assert len(set(point.phrases)) == len(point.phrases)
    assert set(point.patterns) <= {pattern.id for pattern in lexicon().patterns}


@every_point
def test_frames_are_parts_and_poles_of_the_lists(point: Point) -> None:
    known = labels("body_parts") | labels("poles")
    assert point.frames
    for frame in point.frames:
        assert set(frame.split(":")) <= known, frame


def test_no_wording_belongs_to_two_points() -> None:
    wordings = Counter(
        wording
        for point in lexicon().points
        for wording in {point.say, *point.phrases, *point.images}
    )
    assert [wording for wording, count in wordings.items() if count > 1] == []


def test_every_wording_is_heard_as_its_own_point() -> None:
    said = [
        (place, wording)
        for place, point in enumerate(lexicon().points)
        for wording in (*point.phrases, *point.images)
    ]
    utterances = [
        Utterance(Line(0, 0, 0, 1, wording), tuple(wording.lower().split())) for _, wording in said
    ]
    covers = cover_of_points(utterances, lexicon())
    own = covers[np.arange(len(said)), [place for place, _ in said]]
    missed = [
        wording
        for (_, wording), cover, best in zip(said, own, covers.max(axis=1), strict=True)
        if cover < best - 1e-6
    ]
    assert missed == []


@every_point
def test_turning_a_points_poles_asks_for_the_opposite(point: Point) -> None:
    asked = [frame for frame in point_frames(lexicon())[point.id] if frame.parts]
    turned = [
        Frame(frame.parts, OPPOSITES[frame.pole], 0) for frame in asked if frame.pole in OPPOSITES
    ]
    assert asks_for_opposite(turned, asked) == bool(turned)
    assert not asks_for_opposite(asked, asked)


@pytest.mark.parametrize("name", ["axes", "body_parts", "poles"])
def test_word_lists_are_sorted_and_lower_case(name: str) -> None:
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        phrases = [row["phrase"] for row in csv.DictReader(file)]
    assert phrases == sorted(set(phrases))
    assert all(phrase == phrase.lower() for phrase in phrases)
