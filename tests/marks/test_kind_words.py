from __future__ import annotations

import numpy as np
import pytest

from reviewkit.marks.kind_words import BIAS, KIND_WEIGHTS, told_apart, usual_kinds, weigh_kinds
from reviewkit.marks.move_evidence import weigh_moves
from reviewkit.model import Plan, PlanRow, Weights
from reviewkit.read import read_lexicon
from tests.talking import talk

TABLE = Weights(("calf", "squat"), {BIAS: (-1.0, 1.0), "heel": (2.0, 0.5), "sit": (-1.0, 1.5)})


def test_every_word_has_its_odds_for_every_kind() -> None:
    kinds = weigh_kinds(talk("heels up then sit"), TABLE)
    assert kinds.tolist() == [[2.0, 0.0, 0.0, -1.0], [0.5, 0.0, 0.0, 1.5]]


def test_without_a_table_nothing_is_known() -> None:
    assert weigh_kinds(talk("heels up"), None).shape == (0, 2)
    assert usual_kinds(None) == ()


def test_usual_kinds_are_those_before_a_word_is_said() -> None:
    assert usual_kinds(TABLE) == (-1.0, 1.0)


def test_moves_are_told_apart_by_their_kinds_alone() -> None:
    kinds = weigh_kinds(talk("heels sit"), TABLE)
    odds = told_apart(kinds, (0, 1, -1))
    assert odds.tolist() == [[0.75, -1.25], [-0.75, 1.25], [0.0, 0.0]]
    assert odds.sum(axis=0) == pytest.approx(np.zeros(2))


def test_moves_of_one_kind_are_not_told_apart() -> None:
    kinds = weigh_kinds(talk("heels sit"), TABLE)
    assert not told_apart(kinds, (0, 0)).any()
    assert not told_apart(kinds, (0, -1)).any()


def test_what_coaches_say_of_heels_speaks_for_the_calf_raise() -> None:
    lexicon = read_lexicon()
    rows = (PlanRow(move, 40_000, "Main", rest_ms=20_000) for move in ("Calf raise", "Push-up"))
    plan = Plan("plan.csv", tuple(rows))
    said = talk("heels high over your big toes and lower them slowly")
    known = weigh_moves(said, plan, lexicon, ())
    calf, press = np.array(known.cued).sum(axis=1)
    assert calf > press
    assert set(known.own_kinds) == {
        lexicon.weights[KIND_WEIGHTS].outputs.index(kind) for kind in ("calf", "push-horizontal")
    }
