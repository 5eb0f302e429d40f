"""Promises that two things follow each other without a rest: what is none first."""

from __future__ import annotations

import pytest

from reviewkit.marks.promise_joins import claim_joins
from reviewkit.marks.promise_tokens import read_tokens
from reviewkit.marks.wording import find_wordings, index_wordings
from reviewkit.read import read_lexicon

WORDINGS = index_wordings(read_lexicon().lists["promises"])


def joins(text: str) -> list[str]:
    tokens = read_tokens(text.split())
    hits = find_wordings([token.text for token in tokens], WORDINGS)
    return sorted({claim.what for claim in claim_joins(tokens, hits)})


@pytest.mark.parametrize(
    "text",
    [
        "twenty seconds to change between left and right",
        "don't rest your elbow between the legs",
        "take a break when you need one",
        "nobody may leave before the rest and both sides get done",
        "the left foot is in front and the right one behind",
        "no break today it's a short one",
    ],
)
def test_no_such_promise(text: str) -> None:
    assert joins(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "there's no gap between your left and right",
        "we don't put any rest between the two sides",
        "left and right go one straight into the other i'm not giving you any break",
        "when we stand on one leg there is no pause from left to right",
        "it's one leg and then the other leg there's no rest in that at all",
        "i'll not have you stood waiting between legs",
    ],
)
def test_no_rest_between_sides(text: str) -> None:
    assert joins(text) == ["no_rest_sides"]


@pytest.mark.parametrize(
    "text",
    [
        "the row and the lunge are together there is no pause between them",
        "push up and row are stuck together so don't look for a breather",
        "between your bridge and your walk there's no sitting about",
    ],
)
def test_no_rest_between_two_moves(text: str) -> None:
    assert joins(text) == ["no_rest_pair"]
