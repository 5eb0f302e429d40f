"""A small convolutional network that hears what a line of talk is about, and how risky it is.

A word is the sum of rows of numbers: what its stem means, and its classes and senses. Two
layers, the second of which looks twice as far (dilated convolutions, residual), let each
word see three to either side; the most that any word shows of each number is weighed for
every label (max pooling over time: Collobert et al. 2011, "Natural language processing
(almost) from scratch", J. Mach. Learn. Res. 12, 2493-2537). Fitted by ``tests/fit``; this
is the forward pass alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reviewkit.language.convolution import (
    Floats,
    bend,
    beside,
    convolution_rows,
    meaning,
    table_rows,
)
from reviewkit.language.matching import stem
from reviewkit.language.word_classes import class_table, classes_of, sense_table
from reviewkit.model import Lexicon, Weights
from reviewkit.once import once

NET_TABLES = ("label_words", "label_layers")
# The label of a line that may hurt somebody, told beside what the line is.
RISK = "risk"
REACHES = (1, 2)
BIASES = "outputs"
# Words beyond this are not read; hardly any line says that much.
MOST_WORDS = 40


@dataclass(frozen=True, slots=True, eq=False)
class LabelNet:
    """The fitted network.

    ``names`` tells which row of ``meanings`` a stem, class or sense has; the first row is
    nothing. ``layers`` are weights, shape (3 * width, width), each with its bias, and
    ``outputs`` weights, shape (width, labels), and biases, in the order of ``labels``.
    """

    names: dict[str, int]
    meanings: Floats
    layers: tuple[tuple[Floats, Floats], ...]
    outputs: tuple[Floats, Floats]
    labels: tuple[str, ...]


def row_names(word: str, lexicon: Lexicon) -> tuple[str, ...]:
    """Name what a word is the sum of: its stem, its classes, and its senses."""
    senses = classes_of(word, sense_table(lexicon))
    return (stem(word), *classes_of(word, class_table(lexicon)), *(f"~{name}" for name in senses))


def lexicon_net(lexicon: Lexicon) -> LabelNet | None:
    """Give the network that travels with a lexicon, ``None`` where there is none."""
    tables = [lexicon.weights[name] for name in NET_TABLES if name in lexicon.weights]
    return label_net(*tables) if len(tables) == len(NET_TABLES) else None


def hear_lines(
    net: LabelNet, lines: Sequence[Sequence[str]], lexicon: Lexicon, labels: Sequence[str]
) -> Floats:
    """Give the log-odds of some labels for some lines of normalised words, (lines, labels)."""
    if not lines:
        return np.zeros((0, len(labels)), dtype=np.float32)
    cut = [line[:MOST_WORDS] for line in lines]
    # Between two lines lies as much silence as a layer can look across.
    gap = max(REACHES)
    starts = np.cumsum([0, *(len(line) + gap for line in cut)])[:-1]
    rows = np.zeros((int(starts[-1]) + len(cut[-1]) + gap, net.meanings.shape[1]), np.float32)
    is_said = np.zeros((len(rows), 1), dtype=np.float32)
    known = {
        word: meaning(row_names(word, lexicon), net.names, net.meanings)
        for word in {word for line in cut for word in line}
    }
    for start, line in zip(starts, cut, strict=True):
        for at, word in enumerate(line, start=int(start)):
            rows[at] = known[word]
            is_said[at] = 1
    odds = _weigh(net, rows, is_said, starts)
    return odds[:, [net.labels.index(label) for label in labels]]


def _weigh(net: LabelNet, rows: Floats, is_said: Floats, starts: NDArray[np.intp]) -> Floats:
    """Run the layers over all lines at once, and give the log-odds for each."""
    (first, first_bias), *others = net.layers
    rows = bend(beside(rows, REACHES[0]) @ first + first_bias) * is_said
    for reach, (weights, bias) in zip(REACHES[1:], others, strict=True):
        rows = rows + bend(beside(rows, reach) @ weights + bias) * is_said
    # Nothing is below zero, so that the silence behind a line does not count.
    most = np.maximum.reduceat(rows, starts)
    weights, biases = net.outputs
    odds: Floats = most @ weights + biases
    return odds


# --- from the fitted tables ----------------------------------------------------------


@once
def label_net(words: Weights, layers: Weights) -> LabelNet:
    """Put the network together from its fitted tables.

    Args:
        words: A row for each stem, class and sense, ``?`` for all other stems.
        layers: The rows of every layer, as ``convolution_rows`` names them, then one for each
            label and one with the labels' biases.
    """
    width = len(words.outputs)
    names = convolution_rows(width, len(REACHES))
    made = tuple(
        (table_rows(layers, rows), table_rows(layers, [bias])[0]) for bias, rows in names.items()
    )
    inside = {BIASES, *names, *(row for rows in names.values() for row in rows)}
    labels = [name for name in layers.rows if name not in inside]
    return LabelNet(
        names={name: number for number, name in enumerate(words.rows, start=1)},
        meanings=np.concatenate([np.zeros((1, width)), table_rows(words, list(words.rows))]).astype(
            np.float32
        ),
        layers=made,
        outputs=(table_rows(layers, labels).T, table_rows(layers, [BIASES])[0][: len(labels)]),
        labels=tuple(labels),
    )
