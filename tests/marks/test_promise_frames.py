"""Promises told by words near each other: what is none first."""

import pytest

from reviewkit.marks.promise_frames import claim_frames
from reviewkit.marks.promise_tokens import read_tokens
from reviewkit.marks.wording import find_wordings, index_wordings
from reviewkit.model import Phrase

PHRASES = {
    "slow_thing": ["stretch", "lie down"],
    "closing": ["at the end", "afterwards"],
    "loosening": ["loosen"],
    "opening": ["first"],
    "side_one": ["left leg", "one side"],
    "side_other": ["right leg", "other side"],
    "side_rule": ["whatever", "same"],
}
WORDINGS = index_wordings(
    tuple(Phrase(phrase, label) for label, phrases in PHRASES.items() for phrase in phrases)
)


def frames(text: str) -> list[str]:
    tokens = read_tokens(text.split())
    hits = find_wordings([token.text for token in tokens], WORDINGS)
    return [claim.what for claim in claim_frames(tokens, hits)]


@pytest.mark.parametrize(
    "text",
    [
        "stretch the arm long",
        "breathe out at the end",
        "stretch a bit at the end of each rep",
        "no stretch at the end",
        "the left leg is older than the right leg",
        "the same again on one side",
    ],
)
def test_no_promise(text: str) -> None:
    assert frames(text) == []


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("there's a stretch at the end", "cool_down"),
        ("at the end of class we stretch", "cool_down"),
        ("don't skip the stretch at the end", "cool_down"),
        ("afterwards you may lie down", "cool_down"),
        ("first we loosen the hips", "warm_up"),
        ("whatever the left leg does the right leg does", "both_sides"),
        ("one side and then the other side the same", "both_sides"),
    ],
)
def test_promise(text: str, what: str) -> None:
    assert frames(text) == [what]
