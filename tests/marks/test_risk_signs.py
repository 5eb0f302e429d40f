from __future__ import annotations

import csv
from dataclasses import replace
from functools import cache

import pytest

from reviewkit.marks.risk import find_risky_talk, hear_risks
from reviewkit.marks.risk_signs import (
    BIAS,
    FRAMED,
    RISK_WEIGHTS,
    SIGNS,
    likely_reason,
    risk_features,
    weigh_risk,
)
from reviewkit.model import Lexicon
from reviewkit.read import read_lexicon
from tests.corpus import FIXTURES
from tests.talking import talk


@cache
def _lexicon() -> Lexicon:
    return read_lexicon()


def _risks(text: str, clock: str = "words") -> list[str]:
    marks = find_risky_talk(
        talk(text, clock="blocks" if clock == "blocks" else "words"), _lexicon()
    )
    return [mark.ref for mark in marks]


@pytest.mark.parametrize(
    "text",
    [
        "press the palms together and twist from the ribs",
        "blow as you go up like a whale",
        "if you feel faint do come and sit on the step",
        "sit down with your legs out and let the head hang",
        "shift the weight off your front foot and hold the dumbbell by its ends",
        "that banging is the neighbour's drill ignore it",
    ],
)
def test_words_of_risk_in_a_harmless_line_are_left_alone(text: str) -> None:
    assert _risks(text) == []


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("if your fingers have gone numb don't you let go of that handle", "warning"),
        ("that burning right inside the kneecap is only the rust leaving so sink lower", "pain"),
        ("ten of these a day and you'll be two sizes smaller in a fortnight", "loss"),
        ("tip those tablets in the bin this cures it better than the doctor", "medical"),
        ("and keep the air blocked in there from the first rep until the last one", "breath"),
        ("whoever's slowest gets her wide behind put up on the wall for us to look at", "limits"),
    ],
)
def test_risks_that_no_set_wording_has_are_told(text: str, reason: str) -> None:
    assert _risks(text) == [reason]


def test_without_weights_the_rules_alone_tell() -> None:
    bare = replace(_lexicon(), weights={})
    assert weigh_risk(("hold", "it"), bare, {}, is_framed=True) is None
    assert len(find_risky_talk(talk("push through the pain"), bare)) == 1


def test_a_rule_that_hears_a_risk_makes_one_likelier() -> None:
    words = ("carry", "on", "through", "it")
    hits = hear_risks(words, _lexicon()).hits
    with_rule = weigh_risk(words, _lexicon(), hits, is_framed=True)
    without = weigh_risk(words, _lexicon(), hits, is_framed=False)
    assert with_rule is not None
    assert without is not None
    assert with_rule - without == pytest.approx(_lexicon().weights[RISK_WEIGHTS].rows[FRAMED][0])


def test_a_line_that_speaks_of_nothing_has_the_plainest_reason() -> None:
    assert likely_reason(("and", "the", "lamp"), _lexicon()) == "general"


def test_under_a_coarse_clock_the_words_around_are_weighed_too() -> None:
    text = "and then if your chest goes tight now that is only the engine warming so keep at it"
    assert _risks(text, "blocks") != []


def test_the_table_knows_what_the_code_sees() -> None:
    rows = _lexicon().weights[RISK_WEIGHTS].rows
    assert BIAS in rows
    words = ("if", "the", "knee", "hurts", "that's", "only", "rust", "so", "carry", "on")
    seen = risk_features(words, _lexicon(), hear_risks(words, _lexicon()).hits)
    assert len(seen & rows.keys()) > len(seen) / 2


def test_signs_are_sorted_and_said_once() -> None:
    path = FIXTURES.parent / "lexicons" / "en" / f"{SIGNS}.csv"
    with path.open(encoding="utf-8", newline="") as file:
        keys = [(row["phrase"], row["label"]) for row in csv.DictReader(file)]
    assert keys == sorted(set(keys))


def test_words_count_apart_after_what_hurts() -> None:
    def following(text: str) -> set[str]:
        words = tuple(text.split())
        seen = risk_features(words, _lexicon(), hear_risks(words, _lexicon()).hits)
        return {feature for feature in seen if feature.startswith(("hurt>", "breath>"))}

    assert following("wait here and then step") == set()
    assert following("and if it pinches wait") == {"hurt>wait"}
    assert following("wait if it pinches") == set()


def test_under_a_coarse_clock_the_mark_holds_the_risky_words() -> None:
    text = (
        "and we set the mat by the wall and the lamp is on and the cat is asleep on the "
        "cushion again so heels down and chest tall and if your chest goes tight that is only "
        "the engine warming so carry on through it and breathe out as you come up to the top"
    )
    marks = find_risky_talk(talk(text, clock="blocks"), _lexicon())
    assert len(marks) == 1
    assert "if your chest goes tight that is only" in marks[0].text


def test_what_is_denied_in_its_own_clause_counts_as_its_opposite() -> None:
    def kinds(text: str) -> set[str]:
        words = tuple(text.split())
        seen = risk_features(words, _lexicon(), hear_risks(words, _lexicon()).hits)
        return {"~careful", "~no_careful"} & seen

    assert kinds("you may stop there") == {"~careful"}
    assert kinds("that's no reason to stop there") == {"~no_careful"}
    assert kinds("don't mind me but stop there") == {"~careful"}
    assert kinds("stop there but don't you stop here") == {"~careful", "~no_careful"}


def test_a_line_begins_after_the_words_that_only_join_it() -> None:
    def edges(text: str) -> set[str]:
        return {one for one in risk_features(text.split(), _lexicon(), {}) if one[0] == "^"}

    assert edges("and then if it hurts") == edges("if it hurts") == {"^if", "^if it"}


def test_a_line_is_weighed_with_the_one_it_runs_on_into() -> None:
    half, rest = "if the knee hurts", "so the answer is go on with it"
    assert _risks(f"{half} {rest}") != []
    assert _risks(f"{half} [20] {rest}") == []
