"""Amounts as single tokens."""

import pytest

from reviewkit.marks.promise_tokens import read_tokens


@pytest.mark.parametrize(
    ("text", "tokens"),
    [
        ("the other one and one leg", ["the", "other", "one", "and", "one", "leg"]),
        ("three rounds", ["#n3", "rounds"]),
        ("we do it twice", ["we", "do", "it", "#n2", "times"]),
        ("forty five seconds on", ["#t45", "on"]),
        ("half an hour of it", ["#t1800", "of", "it"]),
        ("a minute's rest", ["#t60", "rest"]),
        ("one minute", ["#t60"]),
    ],
)
def test_tokens(text: str, tokens: list[str]) -> None:
    assert [token.text for token in read_tokens(text.split())] == tokens


def test_tokens_cover_every_word_once() -> None:
    words = ["half", "an", "hour", "and", "forty", "five", "seconds", "twice"]
    covered = [
        at
        for token in read_tokens(words)
        if token.text != "times"
        for at in range(token.first, token.last + 1)
    ]
    assert covered == list(range(len(words)))
