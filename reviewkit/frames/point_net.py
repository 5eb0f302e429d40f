"""A small network that hears whether an utterance gives a point, in whatever words.

A word is the sum of rows of numbers: what its stem means, and its senses. Two
convolutions let each word see three to either side. Every word of the point looks among
those of the utterance for what answers it, or finds nothing; what it found is set beside
it, and all that was found is weighed together (decomposable attention: Parikh et al.
2016, "A decomposable attention model for natural language inference", EMNLP, 2249-2255).
Fitted by ``tests/fit``; this is the forward pass alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reviewkit.frames.terms import TermBook, fold, read_terms, term_book
from reviewkit.language.convolution import (
    Floats,
    bend,
    beside,
    convolution_rows,
    meaning,
    numbered,
    table_rows,
)
from reviewkit.model import Lexicon, Weights
from reviewkit.once import once

POINT_TABLES = ("point_words", "point_layers")
REACHES = (1, 2)
# Words beyond this are not read, and no more senses of a word than the other.
MOST_WORDS, MOST_SENSES = 40, 4
# Marks a sense, so that it is not taken for the stem of the same name.
_SENSE = "@"
# Keeps what is not there out of a choice, or below all that is.
_NEVER = np.float32(1e4)

# The rows of the table of layers: matrices by the names of their inputs, then single rows.
LOOKS, SHOWS = "looks", "shows"
COMPARED = ("asked", "found", "both", "apart")
WHOLE_ASKED, WHOLE_SAID = "whole asked", "whole said"
NOTHING, NOTHING_MEANS = "nothing", "nothing means"
BIASES = ("compared bias", "whole asked bias", "whole said bias")
COUNTS = "counts"
OUTPUTS = ("mean", "most", "whole")
OUTPUT_BIAS = "bias"


@dataclass(frozen=True, slots=True, eq=False)
class PointNet:
    """The fitted network.

    ``names`` tells which row of ``meanings`` a stem or sense has; the first row is nothing.
    ``layers`` are weights, shape (3 * width, width), each with its bias; ``matrices`` have
    the shape (width, width) and ``rows`` are as long as the width.
    """

    names: dict[str, int]
    meanings: Floats
    layers: tuple[tuple[Floats, Floats], ...]
    matrices: dict[str, Floats]
    rows: dict[str, Floats]


@dataclass(frozen=True, slots=True, eq=False)
class Read:
    """Texts as the network sees them: (texts, words, width), and which words there are."""

    words: Floats
    is_said: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Heard:
    """Utterances as read, what their words show when looked at, and what they say in all."""

    net: PointNet
    book: TermBook
    read: Read
    shown: Floats
    whole: Floats


def word_rows(words: Sequence[str], book: TermBook) -> list[tuple[str, ...]]:
    """Name what each word is the sum of: its stem, then its senses, those of phrases too."""
    own = tuple(words[:MOST_WORDS])
    senses: list[set[str]] = [set() for _ in own]
    for term in read_terms(own, book):
        for at in range(term.at, term.at + term.length):
            senses[at] |= term.senses
    return [
        (fold(word), *(_SENSE + name for name in sorted(kept)[:MOST_SENSES]))
        for word, kept in zip(own, senses, strict=True)
    ]


def lexicon_point_net(lexicon: Lexicon) -> PointNet | None:
    """Give the network that travels with a lexicon, ``None`` where there is none."""
    tables = [lexicon.weights[name] for name in POINT_TABLES if name in lexicon.weights]
    return point_net(*tables) if len(tables) == len(POINT_TABLES) else None


def hear(texts: Sequence[Sequence[str]], lexicon: Lexicon) -> Heard | None:
    """Read utterances and make ready what every point will ask of them.

    Gives ``None`` where no network travels with the lexicon.
    """
    net, book = lexicon_point_net(lexicon), term_book(lexicon)
    if net is None:
        return None
    read = _read(net, texts, book)
    shown, whole = read.words @ net.matrices[SHOWS], _whole(net, read, WHOLE_SAID)
    return Heard(net, book, read, shown, whole)


def _read(net: PointNet, texts: Sequence[Sequence[str]], book: TermBook) -> Read:
    """Run the first layers over some texts."""
    width = net.meanings.shape[1]
    longest = min(MOST_WORDS, max(map(len, texts), default=0)) or 1
    # Behind a text lies as much silence as a layer can look across.
    rows = np.zeros((len(texts), longest + max(REACHES), width), np.float32)
    is_said = np.zeros((len(texts), longest + max(REACHES), 1), np.float32)
    known: dict[tuple[str, ...], Floats] = {}
    for own, said, text in zip(rows, is_said, texts, strict=True):
        for at, names in enumerate(word_rows(text, book)):
            if names not in known:
                known[names] = meaning(names, net.names, net.meanings)
            own[at] = known[names]
            said[at] = 1
    flat, mask = rows.reshape(-1, width), is_said.reshape(-1, 1)
    (first, first_bias), (second, second_bias) = net.layers
    seen = bend(beside(flat, REACHES[0]) @ first + first_bias) * mask
    seen = seen + bend(beside(seen, REACHES[1]) @ second + second_bias) * mask
    words = (flat + seen).reshape(rows.shape)[:, :longest]
    return Read(words, is_said[:, :longest, 0])


def weigh_point(asked: Sequence[str], heard: Heard | None, places: NDArray[np.intp]) -> Floats:
    """Give the log-odds, by the network alone, that utterances at some places give a point.

    Zeros where there is no network.
    """
    if heard is None or not len(places) or not asked:
        return np.zeros(len(places), np.float32)
    net, point = heard.net, _read(heard.net, [asked], heard.book)
    asks = point.words[0][point.is_said[0] > 0]
    is_said = heard.read.is_said[places]
    longest = int(is_said.sum(axis=1).max())
    is_said, said = is_said[:, :longest], heard.read.words[places, :longest]
    found = _answers(net, asks, said, heard.shown[places, :longest], is_said)
    compared = _compare(net, asks, found)
    weights = _share_out(asks @ net.rows[COUNTS])
    mean = np.tensordot(compared, weights, axes=(1, 0))
    whole = _whole(net, point, WHOLE_ASKED)[0] * heard.whole[places]
    total = sum(
        part @ net.rows[name]
        for part, name in zip((mean, compared.max(axis=1), whole), OUTPUTS, strict=True)
    )
    odds: Floats = total + net.rows[OUTPUT_BIAS][0]
    return odds


def _answers(net: PointNet, asks: Floats, said: Floats, shown: Floats, is_said: Floats) -> Floats:
    """Give what each word of a point finds in each utterance: (utterances, asks, width)."""
    scale = np.float32(asks.shape[1] ** -0.5)
    looks = asks @ net.matrices[LOOKS] * scale
    fits = shown @ looks.T - (1 - is_said)[:, :, None] * _NEVER
    nothing = looks @ net.rows[NOTHING]
    most = np.maximum(fits.max(axis=1), nothing)
    chosen = np.exp(fits - most[:, None])
    left = np.exp(nothing - most)
    total = chosen.sum(axis=1) + left
    found = np.swapaxes(chosen, 1, 2) @ said + left[:, :, None] * net.rows[NOTHING_MEANS]
    answers: Floats = found / total[:, :, None]
    return answers


def _compare(net: PointNet, asks: Floats, found: Floats) -> Floats:
    """Set what was found beside each word of the point."""
    by_asked, by_found, by_both, by_apart = (net.matrices[name] for name in COMPARED)
    own = asks @ by_asked + net.rows[BIASES[0]]
    # One matrix for each word: what is found, by itself and times the word.
    matrices = by_found + asks[:, :, None] * by_both
    beside_it = np.matmul(np.swapaxes(found, 0, 1), matrices).swapaxes(0, 1)
    return bend(own + beside_it + np.abs(asks - found) @ by_apart)


def _whole(net: PointNet, read: Read, name: str) -> Floats:
    """Give the most that any word of each text shows of each number."""
    bias = net.rows[f"{name} bias"]
    shown = read.words @ net.matrices[name] + bias - (1 - read.is_said)[:, :, None] * _NEVER
    most: Floats = shown.max(axis=1)
    return most


def _share_out(values: Floats) -> Floats:
    chances = np.exp(values - values.max())
    shares: Floats = chances / chances.sum()
    return shares


# --- from the fitted tables ----------------------------------------------------------


def matrix_names() -> tuple[str, ...]:
    """Name the matrices of the table of layers, in order."""
    return (LOOKS, SHOWS, *COMPARED, WHOLE_ASKED, WHOLE_SAID)


def single_rows() -> tuple[str, ...]:
    """Name the single rows of the table of layers, in order."""
    return (NOTHING, NOTHING_MEANS, *BIASES, COUNTS, *OUTPUTS, OUTPUT_BIAS)


@once
def point_net(words: Weights, layers: Weights) -> PointNet:
    """Put the network together from its fitted tables.

    Args:
        words: A row for each stem and sense, ``?`` for all other stems.
        layers: The rows of the convolutions, as ``convolution_rows`` names them, then those of
            ``matrix_names`` and ``single_rows``.
    """
    width = len(words.outputs)
    meanings = np.concatenate([np.zeros((1, width)), table_rows(words, list(words.rows))])
    return PointNet(
        names={name: number for number, name in enumerate(words.rows, start=1)},
        meanings=meanings.astype(np.float32),
        layers=tuple(
            (table_rows(layers, rows), table_rows(layers, [bias])[0])
            for bias, rows in convolution_rows(width, len(REACHES)).items()
        ),
        matrices={name: table_rows(layers, numbered(name, width)) for name in matrix_names()},
        rows={name: table_rows(layers, [name])[0] for name in single_rows()},
    )
