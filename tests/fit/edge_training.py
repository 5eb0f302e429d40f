"""Train the network of edges on labelled talk, and write it as tables.

The network is that of ``reviewkit.marks.edge_net``, here as one of PyTorch's, which is
needed for this alone: ``pip install -e '.[fit]'``. Words heard in few classes stand for
unknown ones, and so does now and then any word, so that the network learns to do without
it (word dropout: Iyyer et al. 2015, "Deep unordered composition").
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import torch
from torch import Tensor, nn
from torch.nn import functional

from reviewkit.marks.edge_inputs import PLACE_FACTS, WORD_FACTS
from reviewkit.marks.edge_net import OUTPUTS, REACHES, UNKNOWN, layer_rows
from reviewkit.model import Weights
from tests.fit.edge_data import Sheet
from tests.fit.weight_table import rounded_rows

Indexes = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Recipe:
    """How large the network is and how it learns.

    ``work_shrink`` is what the log-odds of work are multiplied by in the end, as each word
    says again what its neighbours have said; ``work_less`` is taken off them, as talk
    between intervals is the rarer and must be told all the same. ``word_dropout`` of the words
    are hidden, and to guess them from those around counts ``guess_share``: whoever can has
    learned which words stand for one another (Devlin et al. 2019, "BERT").
    """

    meanings: int = 48
    width: int = 96
    least_classes: int = 6
    rounds: int = 6
    rate: float = 3e-3
    decay: float = 0.1
    dropout: float = 0.45
    word_dropout: float = 0.15
    work_share: float = 0.3
    guess_share: float = 0.3
    crop: int = 400
    batch: int = 12
    work_shrink: float = 0.4
    work_less: float = 0.8
    digits: int = 3


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Numbers of known words and of classes, both from 1; 0 is any other."""

    words: dict[str, int]
    classes: dict[str, int]


Rows = dict[str, tuple[float, ...]]

# How far from nothing words and classes begin; classes that begin far off are learned by heart.
_FIRST_MEANING = 0.1
_FIRST_GUESS = 0.03


class _Net(nn.Module):
    def __init__(self, known: Vocabulary, recipe: Recipe) -> None:
        super().__init__()
        width = recipe.width
        self.meanings = nn.Embedding(len(known.words) + 1, recipe.meanings)
        nn.init.normal_(self.meanings.weight, 0, _FIRST_MEANING)
        self.kinds = nn.Embedding(len(known.classes) + 1, width, padding_idx=0)
        nn.init.normal_(self.kinds.weight[1:], 0, _FIRST_GUESS)
        self.first = nn.Linear(recipe.meanings + len(WORD_FACTS), width)
        self.layers = nn.ModuleList(
            nn.Conv1d(width, 2 * width, 3, padding=reach, dilation=reach) for reach in REACHES
        )
        self.place = nn.Linear(2 * width + len(PLACE_FACTS), width)
        self.edges = nn.Linear(width, len(OUTPUTS))
        self.work = nn.Linear(width, 1)
        self.guess = nn.Linear(width, recipe.meanings)
        self.often = nn.Parameter(torch.zeros(len(known.words) + 1))
        self.drop = nn.Dropout(recipe.dropout)
        self.width = width

    def understand(self, words: Tensor, classes: Tensor, facts: Tensor) -> Tensor:
        known = torch.cat([self.drop(self.meanings(words)), facts], -1)
        rows = _bend(self.first(known) + self.kinds(classes))
        for layer in self.layers:
            scaled = functional.layer_norm(rows, (self.width,))
            told, gates = layer(scaled.transpose(1, 2)).transpose(1, 2).chunk(2, -1)
            rows = rows + self.drop(told * torch.sigmoid(gates))
        return rows

    def judge(self, rows: Tensor, talk: Tensor, at: Tensor, facts: Tensor) -> Tensor:
        around = functional.pad(rows, (0, 0, 1, 1))
        sides = torch.cat([around[talk, at], around[talk, at + 1], facts], -1)
        return self.edges(self.drop(_bend(self.place(sides))))

    def guess_words(self, rows: Tensor) -> Tensor:
        return self.guess(rows) @ self.meanings.weight.T + self.often


def _bend(rows: Tensor) -> Tensor:
    return functional.silu(rows)


@dataclass(frozen=True, slots=True, eq=False)
class Trained:
    """A trained network, the words that it knows, and how it was trained."""

    net: _Net
    known: Vocabulary
    recipe: Recipe


@dataclass(frozen=True, slots=True, eq=False)
class _Talk:
    sheet: Sheet
    words: Indexes
    classes: Indexes

    def cut(self, first: int, most: int) -> tuple[slice, Indexes]:
        """Give a stretch of words, and the places whose words lie well inside it."""
        last = min(len(self.words), first + most)
        margin = max(REACHES)
        low = first + margin * (first > 0)
        high = last - margin if last < len(self.words) else last + 1
        at = self.sheet.at
        return slice(first, last), np.flatnonzero((at >= low) & (at < high))


def train(sheets: Sequence[Sheet], recipe: Recipe, *, seed: int = 0) -> Trained:
    """Train a network on some sheets."""
    torch.manual_seed(seed)
    torch.set_num_threads(1)
    generator = random.Random(seed)  # noqa: S311 - nothing secret is drawn
    known = _vocabulary(sheets, recipe)
    net = _Net(known, recipe)
    talks = [_Talk(sheet, *_numbers(sheet, known)) for sheet in sheets]
    batches = sum(1 for _ in _batches(talks, recipe, random.Random(seed)))  # noqa: S311
    optimizer = torch.optim.AdamW(net.parameters(), lr=recipe.rate, weight_decay=recipe.decay)
    steps = recipe.rounds * batches + 1
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimizer, recipe.rate, steps, pct_start=0.15)
    for nth in range(recipe.rounds):
        net.train()
        total = 0.0
        for batch in _batches(talks, recipe, generator):
            loss = _loss(net, batch, recipe)
            optimizer.zero_grad()
            loss.backward()  # type: ignore[no-untyped-call]
            nn.utils.clip_grad_norm_(net.parameters(), 1.0)
            optimizer.step()
            schedule.step()
            total += float(loss.detach())
        sys.stdout.write(f"round {nth + 1} of {recipe.rounds}: loss {total / batches:.3f}\n")
        sys.stdout.flush()
    net.eval()
    return Trained(net, known, recipe)


def _vocabulary(sheets: Sequence[Sheet], recipe: Recipe) -> Vocabulary:
    by_class: dict[str, set[str]] = {}
    for sheet in sheets:
        by_class.setdefault(sheet.name, set()).update(sheet.tokens)
    said = Counter(word for words in by_class.values() for word in words)
    often = sorted(word for word, count in said.items() if count >= recipe.least_classes)
    classes = sorted({one for sheet in sheets for one in sheet.classes if one})
    return Vocabulary(_numbered(often), _numbered(classes))


def _numbered(names: Sequence[str]) -> dict[str, int]:
    return {name: number for number, name in enumerate(names, start=1)}


def _numbers(sheet: Sheet, known: Vocabulary) -> tuple[Indexes, Indexes]:
    words = [known.words.get(token, 0) for token in sheet.tokens]
    return np.array(words, dtype=np.int64), np.array(
        [known.classes.get(one, 0) for one in sheet.classes], dtype=np.int64
    )


def _batches(
    talks: Sequence[_Talk], recipe: Recipe, generator: random.Random
) -> Iterator[list[tuple[_Talk, int]]]:
    """Cut all talks into stretches, not always at the same words, and mix them."""
    crops: list[tuple[_Talk, int]] = []
    for talk in talks:
        spare = len(talk.words) - recipe.crop
        for first in range(0, max(1, len(talk.words) - max(REACHES)), recipe.crop):
            shifted = first + generator.randint(-recipe.crop // 4, recipe.crop // 4)
            crops.append((talk, max(0, min(shifted, spare))))
    generator.shuffle(crops)
    for first in range(0, len(crops) - recipe.batch + 1, recipe.batch):
        yield crops[first : first + recipe.batch]


def _loss(net: _Net, batch: Sequence[tuple[_Talk, int]], recipe: Recipe) -> Tensor:
    """Give the log loss per true edge, and shares of that per word of work and word hidden."""
    cuts = [(talk, *talk.cut(first, recipe.crop)) for talk, first in batch]
    longest = max(words.stop - words.start for _, words, _ in cuts)
    words = torch.zeros(len(cuts), longest, dtype=torch.long)
    classes = torch.zeros_like(words)
    facts = torch.zeros(len(cuts), longest, len(WORD_FACTS))
    work, is_said = torch.zeros(len(cuts), longest), torch.zeros(len(cuts), longest)
    for nth, (talk, cut, _) in enumerate(cuts):
        length = cut.stop - cut.start
        words[nth, :length] = torch.from_numpy(talk.words[cut])
        classes[nth, :length] = torch.from_numpy(talk.classes[cut])
        facts[nth, :length] = torch.from_numpy(talk.sheet.word_facts[cut])
        work[nth, :length] = torch.from_numpy(talk.sheet.work[cut])
        is_said[nth, :length] = 1
    hidden = torch.rand(words.shape) < recipe.word_dropout
    to_guess = hidden & (words > 0)
    guessed = words[to_guess]
    words[hidden] = classes[hidden] = 0
    rows = net.understand(words, classes, facts)
    odds = net.judge(
        rows,
        torch.cat([torch.full((len(own),), nth) for nth, (_, _, own) in enumerate(cuts)]),
        torch.cat([torch.from_numpy(talk.sheet.at[own] - cut.start) for talk, cut, own in cuts]),
        torch.cat([torch.from_numpy(talk.sheet.place_facts[own]) for talk, _, own in cuts]),
    )
    truth = torch.cat([torch.from_numpy(talk.sheet.edges[own]) for talk, _, own in cuts])
    at_edges = functional.binary_cross_entropy_with_logits(odds, truth, reduction="sum")
    at_words = functional.binary_cross_entropy_with_logits(
        net.work(rows)[..., 0], work, weight=is_said, reduction="sum"
    )
    at_hidden = functional.cross_entropy(net.guess_words(rows[to_guess]), guessed)
    return (
        at_edges / truth.sum().clamp(min=1)
        + recipe.work_share * at_words / is_said.sum()
        + recipe.guess_share * at_hidden
    )


# --- as tables -----------------------------------------------------------------------------


def tables_of(trained: Trained) -> tuple[Weights, Weights]:
    """Give the table of the words' meanings, and that of all layers."""
    net, known, recipe = trained.net, trained.known, trained.recipe
    names = layer_rows(recipe.meanings, recipe.width)
    inputs = {
        "words": (net.first.weight.T, net.first.bias),
        "places": (net.place.weight.T, net.place.bias),
        **_convolved(net),
    }
    layers = _rows([f"class {name}" for name in known.classes], net.kinds.weight[1:], recipe)
    for bias, rows in names.items():
        weights, biases = inputs[bias]
        layers |= _rows([bias], biases, recipe) | _rows(rows, weights, recipe)
    layers |= _rows(OUTPUTS, net.edges.weight, recipe)
    layers |= _rows(["work"], recipe.work_shrink * net.work.weight, recipe)
    of_outputs = [
        net.edges.bias,
        recipe.work_shrink * net.work.bias - recipe.work_less,
        torch.zeros(recipe.width - 3),
    ]
    layers |= _rows(["outputs"], torch.cat(of_outputs), recipe)
    meanings = _rows([UNKNOWN, *known.words], net.meanings.weight, recipe)
    return _table(recipe.meanings, meanings), _table(recipe.width, layers)


def _convolved(net: _Net) -> dict[str, tuple[Tensor, Tensor]]:
    """Give the weights and biases of each layer, and those of its gate."""
    found: dict[str, tuple[Tensor, Tensor]] = {}
    for nth, layer in enumerate(net.layers, start=1):
        weights, biases = (part.chunk(2) for part in layer.parameters())
        for half, name in enumerate(("layer", "gate")):
            found[f"{name} {nth}"] = weights[half].permute(2, 1, 0), biases[half]
    return found


def _rows(names: Sequence[str], weights: Tensor, recipe: Recipe) -> Rows:
    rows = weights.detach().reshape(len(names), -1).tolist()
    return rounded_rows(names, rows, recipe.digits)


def _table(width: int, rows: Rows) -> Weights:
    return Weights(tuple(str(number + 1) for number in range(width)), rows)
