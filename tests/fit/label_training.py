"""Train the network of labels on labelled lines, and give it as tables.

The network is that of ``reviewkit.marks.label_net``, here as one of PyTorch's, which is
needed for this alone: ``pip install -e '.[fit]'``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import torch
from torch import Tensor, nn
from torch.nn import functional

from reviewkit.language.convolution import UNKNOWN
from reviewkit.marks.label_net import BIASES, MOST_WORDS, REACHES, row_names
from reviewkit.model import Lexicon, Weights
from tests.fit.net_parts import (
    UNKNOWN_ROW,
    as_rows,
    convolutions_as_rows,
    dilated,
    first_meanings,
    forget,
)

Floats = npt.NDArray[np.float32]
Indexes = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Recipe:
    """How large the network is and how it learns.

    ``other_share`` of the lines labelled by another habit are seen in a round, and count for
    as many as there are.
    """

    width: int = 48
    least_lines: int = 3
    rounds: int = 9
    other_share: float = 0.5
    rate: float = 2e-3
    decay: float = 1e-5
    dropout: float = 0.3
    row_dropout: float = 0.1
    word_dropout: float = 0.15
    batch: int = 64
    digits: int = 3


@dataclass(frozen=True, slots=True, eq=False)
class Lesson:
    """Lines to learn from: words, and for each line and label the truth and how much it counts.

    ``is_other`` tells which lines were labelled by another habit, which is learned apart.
    """

    lines: Sequence[Sequence[str]]
    truth: Floats
    weight: Floats
    is_other: npt.NDArray[np.bool_]


class _Net(nn.Module):
    def __init__(self, names: int, labels: int, recipe: Recipe) -> None:
        super().__init__()
        width = recipe.width
        self.meanings = first_meanings(names, width)
        self.layers = dilated(width, REACHES)
        self.outputs = nn.Linear(width, labels)
        self.other = nn.Linear(1, labels, bias=False)
        self.drop, self.drop_rows = nn.Dropout(recipe.dropout), nn.Dropout(recipe.row_dropout)

    def forward(self, numbers: Tensor, is_other: Tensor) -> Tensor:
        """Weigh lines of words, each word a few numbers of rows: (lines, words, rows)."""
        is_said = (numbers[:, :, 0] > 0).float()[:, None]
        rows = self.drop_rows(self.meanings(numbers).sum(2)).transpose(1, 2) * is_said
        rows = functional.relu(self.layers[0](rows)) * is_said
        for layer in self.layers[1:]:
            rows = rows + self.drop(functional.relu(layer(rows)) * is_said)
        most = self.drop(rows.amax(2))
        odds: Tensor = self.outputs(most) + self.other(is_other[:, None])
        return odds


def train(
    lesson: Lesson, voices: Mapping[str, float], lexicon: Lexicon, recipe: Recipe, *, seed: int = 0
) -> tuple[Weights, Weights]:
    """Train a network, and give the table of its words and that of its layers.

    ``voices`` names the labels, and what the log-odds of each are multiplied by in the end.
    """
    torch.manual_seed(seed)
    torch.set_num_threads(1)
    rng = np.random.default_rng(seed)
    named = {word: row_names(word, lexicon) for line in lesson.lines for word in line}
    names = _known(lesson.lines, named, recipe)
    numbers = _numbers(lesson.lines, named, names)
    net = _Net(len(names), len(voices), recipe)
    optimizer = torch.optim.AdamW(net.parameters(), lr=recipe.rate, weight_decay=recipe.decay)
    seen = len(numbers) - (1 - recipe.other_share) * lesson.is_other.sum()
    steps = int(1.05 * recipe.rounds * seen / recipe.batch) + recipe.rounds
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimizer, recipe.rate, steps, pct_start=0.1)
    net.train()
    for _ in range(recipe.rounds):
        for batch in _batches(lesson, recipe, rng):
            loss = _loss(net, lesson, numbers[batch], batch, recipe)
            optimizer.zero_grad()
            loss.backward()  # type: ignore[no-untyped-call]
            optimizer.step()
            schedule.step()
    return _tables(net, names, voices, recipe)


def _known(
    lines: Sequence[Sequence[str]], named: dict[str, tuple[str, ...]], recipe: Recipe
) -> dict[str, int]:
    """Number the stems of enough lines, all classes and all senses; the unknown stem is first."""
    said = Counter(named[word][0] for line in lines for word in set(line))
    stems = sorted(name for name, count in said.items() if count >= recipe.least_lines)
    others = sorted({name for names in named.values() for name in names[1:]})
    kept = [UNKNOWN, *stems, *(name for name in others if name not in said)]
    return {name: number for number, name in enumerate(dict.fromkeys(kept), start=UNKNOWN_ROW)}


def _numbers(
    lines: Sequence[Sequence[str]], named: dict[str, tuple[str, ...]], names: dict[str, int]
) -> Indexes:
    """Number the rows of every word, shape (lines, words, rows), zeros behind them."""
    rows = {
        word: [names.get(base, UNKNOWN_ROW), *(names[name] for name in others)]
        for word, (base, *others) in named.items()
    }
    most = max(len(own) for own in rows.values())
    numbers = np.zeros((len(lines), MOST_WORDS, most), dtype=np.int64)
    for line, cells in zip(lines, numbers, strict=True):
        for word, cell in zip(line, cells, strict=False):
            cell[: len(rows[word])] = rows[word]
    return numbers


def _batches(lesson: Lesson, recipe: Recipe, rng: np.random.Generator) -> Iterator[Indexes]:
    """Put lines of about the same length together, in an order that is never the same."""
    seen = np.flatnonzero(~lesson.is_other | (rng.random(len(lesson.lines)) < recipe.other_share))
    lengths = np.array([len(lesson.lines[at]) for at in seen.tolist()]) + 6 * rng.random(len(seen))
    order = seen[np.argsort(lengths)]
    batches = [order[at : at + recipe.batch] for at in range(0, len(order), recipe.batch)]
    for at in rng.permutation(len(batches)):
        yield batches[at]


def _loss(net: _Net, lesson: Lesson, numbers: Indexes, batch: Indexes, recipe: Recipe) -> Tensor:
    """Give the log loss for each line of a batch, all labels together."""
    longest = max(1, int((numbers[:, :, 0] > 0).sum(axis=1).max()))
    given = forget(torch.from_numpy(numbers[:, :longest]), recipe.word_dropout)
    is_other = lesson.is_other[batch].astype(np.float32)
    weight = lesson.weight[batch] * (1 + is_other * (1 / recipe.other_share - 1))[:, None]
    losses = functional.binary_cross_entropy_with_logits(
        net(given, torch.from_numpy(is_other)),
        torch.from_numpy(lesson.truth[batch]),
        weight=torch.from_numpy(weight),
        reduction="sum",
    )
    return losses / len(batch)


def _tables(
    net: _Net, names: dict[str, int], voices: Mapping[str, float], recipe: Recipe
) -> tuple[Weights, Weights]:
    width = recipe.width
    digits = recipe.digits
    layers = convolutions_as_rows(net.layers, width, digits)
    shares = torch.tensor(list(voices.values()))
    layers |= as_rows(list(voices), shares[:, None] * net.outputs.weight, digits)
    biases = torch.cat([shares * net.outputs.bias, torch.zeros(width - len(voices))])
    layers |= as_rows([BIASES], biases, digits)
    columns = tuple(str(number) for number in range(1, width + 1))
    words = as_rows(list(names), net.meanings.weight[1:], digits)
    return Weights(columns, words), Weights(columns, layers)
