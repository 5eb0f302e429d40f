"""What amounts measure, by the words around them and by their place."""

import pytest

from reviewkit.marks.promise_amounts import claim_amounts
from reviewkit.marks.promise_tokens import read_tokens
from reviewkit.marks.wording import find_wordings, index_wordings
from reviewkit.model import Phrase

PHRASES = {
    "work": ["{t} of work", "each * {t}"],
    "rest": ["{t} off", "{n} off", "after each * {t}", "{t} * after each"],
    "rounds": ["{n} rounds"],
    "correction": ["no", "sorry"],
}
WORDINGS = index_wordings(
    tuple(Phrase(phrase, label) for label, phrases in PHRASES.items() for phrase in phrases)
)


def amounts(text: str) -> list[str]:
    tokens = read_tokens(text.split())
    found = claim_amounts(tokens, find_wordings([token.text for token in tokens], WORDINGS))
    return [f"{claim.what} {claim.value:g}" for claim in found]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("i am forty and my dog is nine", []),
        ("three no two rounds", ["rounds 2"]),
        ("two rounds no two", ["rounds 2"]),
        ("forty seconds of work no what am i saying thirty", ["work 30"]),
        ("fifteen off no i changed it it's ten", ["rest 10"]),
        ("three no hang on four rounds", ["rounds 4"]),
        ("forty seconds of work", ["work 40"]),
        ("after each you get forty seconds", ["rest 40"]),
        ("forty seconds of work each time after each", ["work 40"]),
        ("forty seconds of work then twenty to mop your brow", ["work 40", "maybe_rest 20"]),
        ("forty seconds in the noise twenty seconds off", ["maybe_work 40", "rest 20"]),
        ("walk at five and a half off we go", []),
        ("twenty off and all six", ["rest 20", "maybe_moves 6"]),
        ("eighteen pieces of work", ["maybe_moves 18"]),
        ("forty seconds in the noise", ["length 40"]),
        ("it's forty in the thick of it and twenty to mop", ["length 40", "length 20"]),
        ("twelve minutes", ["minutes 12"]),
        ("forty seconds of work and seven balloons", ["work 40", "maybe_moves 7"]),
    ],
)
def test_amounts(text: str, found: list[str]) -> None:
    assert amounts(text) == found
