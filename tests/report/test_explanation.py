from __future__ import annotations

import io
from dataclasses import replace

from rich.console import Console

from reviewkit.model.explained import (
    Candidate,
    EdgeExplanation,
    Explanation,
    LengthExplanation,
    Reason,
)
from reviewkit.report.explanation import print_explanation
from reviewkit.report.wording import MINUS
from tests.findings.classes import Row, interval

NOTHING = EdgeExplanation(None, None, ())
REASONS = (Reason('the words after: "go chest up"', 3.21), Reason("any moment at all", -5.3))
TAKEN = Candidate(20_040, 0.984, -2.09, "three two one", "go chest up", REASONS)
OTHER = Candidate(26_700, 0.004, -6.0, "up and", "", (Reason("a pause of 1.2 s before", -0.7),))
DONE = interval(Row("Squat", 20, length_s=34), 1)
EXPLAINED = Explanation(
    interval=DONE,
    start=EdgeExplanation(DONE.start, TAKEN, (OTHER,)),
    end=EdgeExplanation(DONE.end, replace(TAKEN, at_ms=54_000), ()),
    length=LengthExplanation(34_000, 40_000, -0.61, 3.26),
    rest_before_ms=18_000,
    planned_rest_before_ms=20_000,
    names=(Reason("squat", 1.25),),
    cues=(Reason("knees out and " + 12 * "wide ", 0.8),),
)
SKIPPED = Explanation(
    interval(Row("Squat", None), 1), NOTHING, NOTHING, None, None, None, (), ()
)  # fmt: skip


def printed(explained: Explanation) -> str:
    text = io.StringIO()
    print_explanation(explained, Console(file=text, width=80, markup=False, emoji=False))
    return text.getvalue()


def test_nothing_is_wider_than_the_terminal() -> None:
    assert all(len(line) <= 80 for line in printed(EXPLAINED).splitlines())


def test_edges_come_with_their_reasons() -> None:
    shown = printed(EXPLAINED)
    assert "Start 0:20.0, between 0:19.7 and 0:20.3" in shown
    assert f"chance 98 %, the talk alone {MINUS}2.1" in shown
    assert "three two one | go chest up" in shown
    assert '+3.2  the words after: "go chest up"' in shown
    assert f"{MINUS}5.3  any moment at all" in shown


def test_runners_up_are_shown() -> None:
    shown = printed(EXPLAINED)
    assert "Instead it might be" in shown
    assert "0:26.7  chance under 1 %" in shown
    assert "up and | (nothing)" in shown


def test_lengths_and_rests_are_set_against_the_plan() -> None:
    shown = printed(EXPLAINED)
    assert "length: 34 s, planned 40 s" in shown
    assert f"this length counts {MINUS}0.6, the usual one would count +3.3" in shown
    assert "rest before: 18 s, planned 20 s" in shown


def test_a_usual_length_of_this_class_alone_is_named() -> None:
    own = replace(EXPLAINED, length=LengthExplanation(34_000, 34_000, 3.2, 3.2))
    assert "planned 40 s, usual in this class 34 s" in printed(own)
    assert "usual in this class" not in printed(EXPLAINED)


def test_what_was_said_of_the_length_is_told() -> None:
    short = replace(EXPLAINED, length=LengthExplanation(34_000, 40_000, -0.61, 3.26, 1.84))
    assert "said around the end of its having been cut short: +1.8" in printed(short)
    long = replace(EXPLAINED, length=LengthExplanation(46_000, 40_000, -0.61, 3.26, -0.5))
    assert f"said around the end of its having run over: {MINUS}0.5" in printed(long)
    assert "said around the end" not in printed(EXPLAINED)


def test_a_skipped_row_says_so() -> None:
    shown = printed(SKIPPED)
    assert "Main, round 1: skipped" in shown
    assert "no moment in the talk comes into question" in shown


def test_where_a_skipped_row_might_have_been_is_shown() -> None:
    maybe = replace(SKIPPED, start=EdgeExplanation(None, None, (OTHER,)))
    assert "If it was done, it might be" in printed(maybe)


def test_words_that_steer_terminals_are_harmless() -> None:
    hostile = replace(TAKEN, before="three\x1b[31m two", after="\u202ego")
    shown = printed(replace(EXPLAINED, start=EdgeExplanation(DONE.start, hostile, ())))
    assert "\x1b" not in shown
    assert "\u202e" not in shown
