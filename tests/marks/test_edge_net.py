from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reviewkit.marks.edge_features import gather_facts, list_places
from reviewkit.marks.edge_inputs import PLACE_FACTS, WORD_FACTS
from reviewkit.marks.edge_net import (
    REACHES,
    UNKNOWN,
    EdgeNet,
    Heard,
    edge_net,
    hear,
    layer_rows,
    weigh,
)
from reviewkit.model import Phrase, Talk, Weights
from tests.talking import talk

MEANINGS, WIDTH = 3, 4
SEEN = sum(REACHES)


def table(names: list[str], width: int, seed: int) -> Weights:
    """Give rows of numbers that differ everywhere."""
    numbers = np.random.default_rng(seed).normal(0, 0.4, (len(names), width))
    rows = {name: tuple(row) for name, row in zip(names, numbers.tolist(), strict=True)}
    return Weights(tuple(map(str, range(width))), rows)


def small_net() -> EdgeNet:
    named = layer_rows(MEANINGS, WIDTH)
    layers = [*named, *(row for rows in named.values() for row in rows)]
    names = ["class body", "class rest", *layers, "start", "end", "work", "outputs"]
    sureness = table(["words", "captions", "blocks"], 4, 3)
    return edge_net(table([UNKNOWN, "go", "knees"], MEANINGS, 1), table(names, WIDTH, 2), sureness)


NET = small_net()


def heard(words: int, seed: int, at: tuple[int, ...]) -> Heard:
    """Give made-up talk with places before some words."""
    numbers = np.random.default_rng(seed)
    return Heard(
        "c",
        numbers.integers(0, 3, words),
        numbers.integers(0, 3, words),
        numbers.normal(0, 1, (words, len(WORD_FACTS))).astype(np.float32),
        np.array(at, dtype=np.intp),
        numbers.normal(0, 1, (len(at), len(PLACE_FACTS))).astype(np.float32),
    )


def bent(number: float) -> float:
    return number / (1 + math.exp(-number))


def by_hand(net: EdgeNet, given: Heard, place: int) -> list[float]:
    """Weigh one place number by number, as the tables say."""

    def layer(of: str, inputs: list[float]) -> list[float]:
        named = {"words": net.first, "places": net.place, "edges": net.edges} | {
            f"{name} {nth + 1}": one
            for name, all_of in (("layer", net.layers), ("gate", net.gates))
            for nth, one in enumerate(all_of)
        }
        weights, bias = named[of].weights, named[of].bias
        return [
            sum(number * weights[row, column] for row, number in enumerate(inputs)) + bias[column]
            for column in range(weights.shape[1])
        ]

    def scaled(row: list[float]) -> list[float]:
        mean = sum(row) / len(row)
        variance = sum((number - mean) ** 2 for number in row) / len(row)
        return [(number - mean) / (variance + 1e-5) ** 0.5 for number in row]

    none = [0.0] * WIDTH
    rows = [
        [
            bent(number + kind)
            for number, kind in zip(
                layer("words", [*net.meanings[word], *facts]), net.kinds[own], strict=True
            )
        ]
        for word, own, facts in zip(given.words, given.classes, given.word_facts, strict=True)
    ]
    for nth, reach in enumerate(REACHES):
        flat = [none] * reach + [scaled(row) for row in rows] + [none] * reach
        beside = [flat[at] + flat[at + reach] + flat[at + 2 * reach] for at in range(len(rows))]
        added = [
            [
                one / (1 + math.exp(-gate))
                for one, gate in zip(
                    layer(f"layer {nth + 1}", inputs),
                    layer(f"gate {nth + 1}", inputs),
                    strict=True,
                )
            ]
            for inputs in beside
        ]
        rows = [
            [a + b for a, b in zip(*pair, strict=True)] for pair in zip(rows, added, strict=True)
        ]
    around = [none, *rows, none]
    at = int(given.at[place])
    sides = [*around[at], *around[at + 1], *given.place_facts[place]]
    told = layer("edges", [bent(one) for one in layer("places", sides)])
    return [one * times + plus for one, times, plus in zip(told, *net.sureness["c"], strict=True)]


@pytest.mark.parametrize("words", [0, 1, 2, 40])
def test_odds_are_those_that_the_tables_give_by_hand(words: int) -> None:
    given = heard(words, 3, (0, words // 2, words))
    told = weigh(NET, given)
    assert (told.edges.shape, told.work.shape) == ((3, 2), (words,))
    assert (told.places.shape, told.words.shape) == ((3, WIDTH), (words, WIDTH))
    for place in range(3):
        assert told.edges[place].tolist() == pytest.approx(by_hand(NET, given, place), abs=1e-4)


@settings(max_examples=25)
@given(st.integers(0, 120), st.integers(0, 5))
def test_a_place_is_told_nothing_by_words_further_off_than_the_layers_reach(
    changed: int, seed: int
) -> None:
    given = heard(121, seed, (60,))
    words = given.words.copy()
    words[changed] = (words[changed] + 1) % 3
    before, after = weigh(NET, given).edges, weigh(NET, replace(given, words=words)).edges
    is_near = 60 - SEEN - 1 <= changed <= 60 + SEEN
    assert is_near or before[0].tolist() == pytest.approx(after[0].tolist(), abs=1e-5)
    assert abs(changed - 60) > 3 or before.tolist() != after.tolist()


def test_words_that_are_not_in_the_table_are_all_one() -> None:
    said = [talk(text) for text in ("go zorb knees", "go wuff knees", "go go knees")]
    heard_as = [hear(NET, gather_facts(one, ()), list_places(one)) for one in said]
    zorb, wuff, go = (weigh(NET, one).edges[1].tolist() for one in heard_as)
    assert zorb == wuff != go


def test_a_class_of_words_counts_beside_the_word() -> None:
    said = talk("go zorb knees")
    plain, named = (
        weigh(NET, hear(NET, gather_facts(said, listed), list_places(said))).edges.tolist()
        for listed in ((), (Phrase("zorb", "rest"),))
    )
    assert plain != named


def test_nothing_said_has_places_all_the_same() -> None:
    silent = Talk((), "words", 0, 10_000)
    told = weigh(NET, hear(NET, gather_facts(silent, ()), list_places(silent)))
    assert len(told.edges) == len(told.places) == len(list_places(silent))
    assert len(told.work) == len(told.words) == 0
