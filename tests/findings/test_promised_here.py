"""Rests that are given a length as they begin."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reviewkit.findings.promises import judge_promises
from reviewkit.model import Mark
from tests.findings.classes import circuit, heard_class
from tests.talking import talk

# The second round of two begins at 400 s, after a rest of 60 s from 340 s on.
REST_S = 340


def verdicts(said: str, *, ref: str = "length", value: float = 60, after_s: float = 2) -> list[str]:
    rows = circuit(rounds=2, start_s=120)
    rows[3] = replace(rows[3], rest_s=60)
    rows = [
        row if at < 4 else replace(row, start_s=(row.start_s or 0) + 40)
        for at, row in enumerate(rows)
    ]
    words = talk(said, start_ms=round(1000 * (REST_S + after_s))).words
    first = next(at for at, word in enumerate(words) if word.norm.startswith("minute")) - 1
    at_ms = words[first].start_ms
    mark = Mark("promise", first, first + 1, at_ms, at_ms + 750, said, ref, value, 0.8)
    return [one.verdict for one in judge_promises(heard_class(rows, words=words, marks=(mark,)))]


@pytest.mark.parametrize(
    ("said", "value", "found"),
    [
        ("have one minute here get some water", 60, ["kept"]),
        ("two minutes now to catch your breath", 120, ["broken"]),
        ("three minutes sit down and drink", 180, ["broken"]),
        ("three minutes of stories about my dog", 180, []),
        ("three minutes off between any of them drink", 180, []),
    ],
)
def test_a_length_said_as_a_rest_begins_is_of_that_rest(
    said: str, value: float, found: list[str]
) -> None:
    assert verdicts(said, value=value) == found


def test_a_minute_is_mostly_a_figure_of_speech() -> None:
    assert verdicts("stop a minute and drink your water now", value=60) == []


def test_what_is_said_late_in_a_rest_is_of_what_is_left() -> None:
    assert verdicts("two minutes now to catch your breath", value=120, after_s=40) == []
