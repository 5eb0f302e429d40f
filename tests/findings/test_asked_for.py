"""What a class was to do without: mentions that ask for nothing, and those that ask for it."""

from __future__ import annotations

import pytest

from reviewkit.findings.asked_for import Sought, asked_at
from reviewkit.marks.breaches import find_breaches
from reviewkit.read import read_lexicon
from tests.findings.classes import circuit, heard_class
from tests.talking import talk

JUMP = Sought(frozenset({"jump", "hop"}), frozenset({"ground"}))
BURPEE = Sought(frozenset({"burpee", "burpees"}), frozenset())
FLOOR = Sought(frozenset(), frozenset(), "floor_asked")
INSIDE_MS = 130_000


def is_asked(said: str, sought: Sought, *, start_ms: int = INSIDE_MS) -> bool:
    words = talk(said, start_ms=start_ms).words
    marks = find_breaches(talk(said, start_ms=start_ms), read_lexicon())
    return asked_at(heard_class(circuit(), words=words, marks=marks), sought) is not None


@pytest.mark.parametrize(
    ("said", "sought"),
    [
        ("no jump here and do not hop", JUMP),
        ("if you want you jump and you hop", JUMP),
        ("hop on double it over", JUMP),
        ("you land like a jump but soft like a hop", JUMP),
        ("i told my mother about burpees", BURPEE),
        ("drive your heel down into the floor", FLOOR),
        ("sit yourself down and get up again", FLOOR),
        ("if you like lie on your back for this", FLOOR),
        ("", FLOOR),
    ],
)
def test_what_is_left_alone(said: str, sought: Sought) -> None:
    assert not is_asked(said, sought)


@pytest.mark.parametrize(
    ("said", "sought"),
    [
        ("this time just jump them both feet together jump them out", JUMP),
        ("leave the ground when you jump", JUMP),
        ("and burpees yeah i know what i said", BURPEE),
        ("forgive me my people but burpees it is", BURPEE),
        ("sit down on the floor for this one", FLOOR),
        ("everybody lie down flat", FLOOR),
        ("hands down on the carpet feet back", FLOOR),
    ],
)
def test_what_is_asked_for(said: str, sought: Sought) -> None:
    assert is_asked(said, sought)


def test_before_the_work_nothing_is_asked_for() -> None:
    assert not is_asked("jump and jump and jump", JUMP, start_ms=0)
