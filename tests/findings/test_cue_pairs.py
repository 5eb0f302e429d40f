from __future__ import annotations

import pytest

from reviewkit.findings.contradiction_weights import BLOCKS, FINE, PairWeights
from reviewkit.findings.contradictions import chance_of
from reviewkit.findings.cue_pairs import FEATURES, Pair, find_pairs
from reviewkit.model import HeardClass, Plan, PlanRow, Talk
from tests.findings.classes import Row, interval
from tests.lexicon import flat_lexicon
from tests.talking import talk


def pairs(first: str, second: str, *, second_at_s: float = 65) -> tuple[Pair, ...]:
    """Say one line in the first of two intervals and one later."""
    early, late = talk(first, start_ms=5_000), talk(second, start_ms=round(1000 * second_at_s))
    said = Talk((*early.words, *late.words), "words", 0, 120_000)
    rows = [Row("Lunge", 0), Row("Lunge", 60, round=2)]
    spans = tuple(interval(row, number + 1) for number, row in enumerate(rows))
    plan = Plan("plan.csv", tuple(PlanRow(row.move, 40_000) for row in rows))
    found = find_pairs(HeardClass(plan, said, (), spans, flat_lexicon()))
    return found.get("Lunge", ())


def feature(pair: Pair, name: str) -> float:
    return pair.features[FEATURES.index(name)]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("keep the heels down on the floor", "heels stay down please"),
        ("lift the heels up", "look up at the ceiling"),
        ("lovely day for it", "how was your weekend"),
    ],
    ids=["same pole", "nothing opposed", "chat"],
)
def test_no_pair(first: str, second: str) -> None:
    assert pairs(first, second) == ()


def test_cues_close_together_describe_one_movement() -> None:
    assert pairs("keep the heels down", "lift the heels up", second_at_s=9) == ()


def test_a_pair_is_measured() -> None:
    (pair,) = pairs("keep the heels down", "now let the heels lift up if you like")
    assert len(pair.features) == len(FEATURES)
    assert feature(pair, "same region, close by") == 1
    assert feature(pair, "axis height") == 1
    assert feature(pair, "change in second") == 1
    assert feature(pair, "option in second") == 1
    assert feature(pair, "same interval") == 0


def test_a_cue_just_before_an_interval_belongs_to_it() -> None:
    (pair,) = pairs("keep the heels down", "this time lift the heels up", second_at_s=50)
    assert feature(pair, "second before its interval") == 1


@pytest.mark.parametrize("weights", [FINE, BLOCKS], ids=["fine", "blocks"])
def test_weights_name_every_feature_and_opposition_counts(weights: PairWeights) -> None:
    assert set(weights.by_feature) == set(FEATURES)
    low = chance_of([0.0] * len(FEATURES), weights)
    named = [float(name == "length of pole words") * 6 for name in FEATURES]
    assert 0 < low < chance_of(named, weights) < 1
