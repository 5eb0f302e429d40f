"""Promises told by words near each other: what is none first."""

import pytest

from reviewkit.marks.promise_frames import claim_frames
from reviewkit.marks.promise_tokens import read_tokens
from reviewkit.marks.wording import as_spoken, compile_wordings

PATTERNS = {
    "slow_thing": compile_wordings(["stretch", "lie down"]),
    "closing": compile_wordings(["at the end", "afterwards"]),
    "loosening": compile_wordings(["loosen"]),
    "opening": compile_wordings(["first"]),
    "side_one": compile_wordings(["left leg", "one side"]),
    "side_other": compile_wordings(["right leg", "other side"]),
    "side_rule": compile_wordings(["whatever", "same"]),
}


def frames(text: str) -> list[str]:
    tokens = read_tokens(text.split())
    spoken = as_spoken([token.text for token in tokens])
    return [claim.what for claim in claim_frames(tokens, spoken, PATTERNS)]


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
