from __future__ import annotations

from dataclasses import replace

import pytest

from reviewkit.errors import InputError
from reviewkit.report.verdicts import parse_verdicts, tally, verdict_sentence
from tests.report.sample import corrected_review, sample_review


def test_verdicts_are_counted() -> None:
    counts = tally(sample_review())
    expected = {
        "on_time": 8, "long": 1, "short": 2, "skipped": 1, "swapped": 1, "added": 1, "missing": 3,
        "late": 1, "wrong": 3, "broken": 1, "risky_talk": 1, "no_breathing": 2,
    }  # fmt: skip
    assert {name: counts[name] for name in expected} == expected


def test_what_the_lexicon_suggests_counts_only_without_a_plan_that_asks() -> None:
    sample = sample_review()
    moves = tuple(
        replace(move, points=tuple(one for one in move.points if one.asked_by == "lexicon"))
        for move in sample.findings.moves
    )
    counts = tally(replace(sample, findings=replace(sample.findings, moves=moves)))
    assert (counts["missing"], counts["late"]) == (1, 1)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("", ()),
        ("long, short", ("long", "short")),
        ("On Time,risky-talk,risky_talk", ("on_time", "risky_talk", "risky_talk")),
    ],
)
def test_lists_of_verdicts_are_read(text: str, names: tuple[str, ...]) -> None:
    assert parse_verdicts(text) == names


def test_an_unknown_verdict_is_an_error() -> None:
    with pytest.raises(InputError, match='no verdict is called "lnog"; choose of on_time, long'):
        parse_verdicts("long,lnog")


def test_a_silent_recording_is_said_to_be_one() -> None:
    sample = sample_review()
    silent = replace(sample, heard=replace(sample.heard, intervals=()))
    assert verdict_sentence(silent) == "No interval was heard in this transcript."


def test_what_is_set_aside_is_not_counted() -> None:
    before, after = tally(sample_review()), tally(corrected_review())
    assert after["long"] == before["long"] - 1
    assert sum(after.values()) == sum(before.values()) - 4
