"""Drafting a plan from the talk alone."""

from __future__ import annotations

import numpy as np
import pytest

from reviewkit.drafting import SOURCE, draft_plan
from reviewkit.drafting.own_words import learn_edge_words
from reviewkit.model import EdgeEvidence, Lexicon, Mark, Moment, Talk
from tests.talking import talk

LEXICON = Lexicon((), (), {})
PLANNED = [(20, 60), (80, 120), (140, 180), (200, 252), (270, 310)]


def told(edges_s: list[tuple[int, int]], weak: float = 2.0) -> tuple[Talk, EdgeEvidence]:
    """Say a word every second, and make the moments at the edges likely ones."""
    spoken = talk(" ".join("push [0.6]" for _ in range(edges_s[-1][1] + 20)))
    starts, ends = ({pair[side] for pair in edges_s} for side in (0, 1))
    moments = tuple(
        Moment(second * 1000, second, 0, weak if second in starts else -6.0,
               weak if second in ends else -6.0)
        for second in range(len(spoken.words))
    )  # fmt: skip
    return spoken, EdgeEvidence(moments, (0.0,) * len(spoken.words))


def promise(what: str, value: float) -> Mark:
    return Mark("promise", 0, 0, 0, 400, "", what, value)


@pytest.mark.parametrize("text", ["", "hello", "hello and welcome to my class"])
def test_tiny_talk_gives_no_rows(text: str) -> None:
    spoken = talk(text)
    unlikely = tuple(
        Moment(word.start_ms, at, 0, -9.0, -9.0) for at, word in enumerate(spoken.words)
    )
    plan = draft_plan(spoken, EdgeEvidence(unlikely, (0.0,) * len(unlikely)), (), LEXICON)
    assert plan.rows == ()
    assert plan.is_drafted


def test_clear_edges_become_rows_with_the_timers_lengths() -> None:
    plan = draft_plan(*told(PLANNED), (), LEXICON)
    assert plan.source == SOURCE
    assert plan.is_drafted
    # The fourth ran twelve seconds long; the plan must not hide it.
    assert [row.work_ms for row in plan.rows] == [40_000] * 5
    assert [row.rest_ms for row in plan.rows] == [20_000, 20_000, 20_000, 20_000, None]


def test_an_edge_nobody_tells_is_found_by_the_timer() -> None:
    silent = [pair for pair in PLANNED if pair != (80, 120)]
    spoken, evidence = told(silent)
    plan = draft_plan(spoken, evidence, [promise("work", 40.0), promise("rest", 20.0)], LEXICON)
    assert len(plan.rows) == len(PLANNED)


def test_words_are_learnt_from_their_other_places() -> None:
    words = ["push", "halt", "push", "push", "halt", "push", "push", "halt", "push", "push"]
    chances = np.array([1.0 if word == "halt" else 0.0 for word in words])
    learnt = learn_edge_words(words, chances)
    assert learnt[1] > 0.2 > 0 > learnt[0]
    alone = np.array([0.0, 1.0, *[0.0] * 8])
    assert learn_edge_words(words, alone)[1] < learn_edge_words(words, alone)[4]


def test_rare_words_teach_nothing() -> None:
    assert not learn_edge_words(["halt", "push"], np.array([1.0, 0.0])).any()
