"""A small convolutional network that hears, in the words around a moment, whether it is an edge.

Every word is a row of numbers: what the word is, its class in the word list, whether the plan
has it, and its place in time. Five layers, each of which looks twice as far as the one before
(dilated convolutions: van den Oord et al. 2016, "WaveNet"; gated, as Dauphin et al. 2017,
"Language modeling with gated convolutional networks"; residual, as He et al. 2016, "Deep
residual learning"), let each word see 31 words to either side; a place is judged by
the words on its two sides and by the silence around it. Fitted by ``tests/fit``; this is
the forward pass alone.

A network is surer of itself than it has a right to be, the more so the coarser the clock.
A line for each clock, fitted on classes that it had not heard, puts that right (Platt
1999, "Probabilistic outputs for support vector machines").
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reviewkit.language.convolution import beside, convolution_rows, numbered, table_rows
from reviewkit.marks.edge_features import Place, TalkFacts
from reviewkit.marks.edge_inputs import PLACE_FACTS, WORD_FACTS, Floats, place_facts, word_facts
from reviewkit.model import Weights
from reviewkit.once import once

REACHES = (1, 2, 4, 8, 16)
OUTPUTS = ("start", "end")
SURENESS = tuple(f"{output} {what}" for output in OUTPUTS for what in ("times", "plus"))
UNKNOWN = "?"
# A little above nothing, so that a row of equal numbers can be scaled.
_LEAST_VARIANCE = 1e-5

Indexes = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class Layer:
    """Weights of a layer: each row's numbers times ``weights``, plus ``bias``."""

    weights: Floats
    bias: Floats

    def of(self, rows: Floats) -> Floats:
        """Weigh rows, shape (rows, inputs), as (rows, outputs)."""
        weighed: Floats = rows @ self.weights + self.bias
        return weighed


@dataclass(frozen=True, slots=True, eq=False)
class EdgeNet:
    """The fitted network: which row of ``meanings`` a word has, and every layer.

    ``meanings`` has a row for each known word, the first for all others; ``kinds`` what
    each class of the word list adds, the first row for words of none. ``sureness`` has two
    rows for each clock, by its first letter: what log-odds of edges are multiplied by, and
    what is added to them.
    """

    words: dict[str, int]
    classes: dict[str, int]
    meanings: Floats
    kinds: Floats
    first: Layer
    layers: tuple[Layer, ...]
    gates: tuple[Layer, ...]
    place: Layer
    edges: Layer
    work: Layer
    sureness: dict[str, Floats]


@dataclass(frozen=True, slots=True, eq=False)
class Heard:
    """A stretch of talk as the network is given it: n words, and places in it.

    ``words`` and ``classes`` number the words' rows of the network; ``at`` is the word
    that follows each place, 0 to n; ``clock`` is the first letter of the talk's clock.
    """

    clock: str
    words: Indexes
    classes: Indexes
    word_facts: Floats
    at: Indexes
    place_facts: Floats


def hear(net: EdgeNet, facts: TalkFacts, places: Sequence[Place]) -> Heard:
    """Look up a talk's words, and lay out the facts of its words and of places in it."""
    return Heard(
        facts.clock,
        np.array([net.words.get(token, 0) for token in facts.tokens], dtype=np.intp),
        np.array([net.classes.get(one, 0) for one in facts.classes], dtype=np.intp),
        word_facts(facts),
        np.array([place.word for place in places], dtype=np.intp),
        place_facts(facts, places),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Told:
    """What the network tells of a stretch of talk.

    ``edges`` are the log-odds of a start and of an end at each place, shape (places, 2),
    ``work`` those of work at each word, shape (words,). ``places`` and ``words`` are the
    rows that its last layers make them of, shapes (places, width) and (words, width).
    """

    edges: Floats
    work: Floats
    places: Floats
    words: Floats


def weigh(net: EdgeNet, heard: Heard) -> Told:
    """Weigh every place as a start and as an end, and every word as talk in work."""
    rows = _understand(net, heard)
    outside = np.zeros((1, rows.shape[1]), dtype=np.float32)
    # The word before a place lies one row further up than the word after it.
    around = np.concatenate([outside, rows, outside])
    sides = (around[heard.at], around[heard.at + 1], heard.place_facts)
    places = _bend(net.place.of(np.concatenate(sides, axis=1)))
    times, plus = net.sureness[heard.clock]
    return Told(net.edges.of(places) * times + plus, net.work.of(rows)[:, 0], places, rows)


def _understand(net: EdgeNet, heard: Heard) -> Floats:
    """Give what each word means where it stands, shape (words, width)."""
    known = np.concatenate([net.meanings[heard.words], heard.word_facts], axis=1)
    rows = _bend(net.first.of(known) + net.kinds[heard.classes])
    for reach, layer, gate in zip(REACHES, net.layers, net.gates, strict=True):
        seen = beside(_scaled(rows), reach)
        rows = rows + layer.of(seen) / (1 + np.exp(-gate.of(seen)))
    return rows


def _scaled(rows: Floats) -> Floats:
    """Scale each row to a mean of 0 and a variance of 1 (Ba et al. 2016, "Layer normalization")."""
    rows = rows - rows.mean(axis=1, keepdims=True)
    variance = np.square(rows).mean(axis=1, keepdims=True)
    scaled: Floats = rows / np.sqrt(variance + np.float32(_LEAST_VARIANCE))
    return scaled


def _bend(rows: Floats) -> Floats:
    """Let what is above zero through, and a little below (SiLU: Elfwing et al. 2018)."""
    bent: Floats = rows / (1 + np.exp(-rows))
    return bent


# --- from the fitted tables --------------------------------------------------------------

_CLASS = "class "
_BIASES = "outputs"


@once
def edge_net(meanings: Weights, layers: Weights, sureness: Weights) -> EdgeNet:
    """Put the network together from its fitted tables.

    Args:
        meanings: A row for each word, ``?`` for all others.
        layers: The rows of every layer, as ``layer_rows`` names them.
        sureness: For each clock and output what log-odds are multiplied by, and what added.
    """
    others = [word for word in meanings.rows if word != UNKNOWN]
    classes = [name for name in layers.rows if name.startswith(_CLASS)]
    names = layer_rows(len(meanings.outputs), len(layers.outputs))
    made = {
        bias: Layer(table_rows(layers, rows), table_rows(layers, [bias])[0])
        for bias, rows in names.items()
    }
    biases = layers.rows[_BIASES]
    return EdgeNet(
        words={word: number for number, word in enumerate(others, start=1)},
        classes={name.removeprefix(_CLASS): at for at, name in enumerate(classes, start=1)},
        meanings=table_rows(meanings, [UNKNOWN, *others]),
        kinds=np.concatenate(
            [np.zeros_like(table_rows(layers, classes[:1])), table_rows(layers, classes)]
        ),
        first=made["words"],
        layers=tuple(made[name] for name in numbered("layer", len(REACHES))),
        gates=tuple(made[name] for name in numbered("gate", len(REACHES))),
        place=made["places"],
        edges=Layer(table_rows(layers, OUTPUTS).T, np.array(biases[:2], dtype=np.float32)),
        work=Layer(table_rows(layers, ["work"]).T, np.array(biases[2:3], dtype=np.float32)),
        sureness={
            clock[0]: table_rows(sureness, [clock])[0].reshape(2, 2).T for clock in sureness.rows
        },
    )


def layer_rows(meanings: int, width: int) -> dict[str, list[str]]:
    """Name the rows of each layer, in the order of its inputs, by the name of its bias."""
    return {
        "words": [*numbered("meaning", meanings), *(f"word: {fact}" for fact in WORD_FACTS)],
        **convolution_rows(width, len(REACHES)),
        **convolution_rows(width, len(REACHES), "gate"),
        "places": [
            *numbered("places before", width),
            *numbered("places after", width),
            *(f"place: {fact}" for fact in PLACE_FACTS),
        ],
    }
