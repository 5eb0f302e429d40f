"""Train the network of points, and give it as tables.

The network is that of ``reviewkit.frames.point_net``, here as one of PyTorch's, which is
needed for this alone: ``pip install -e '.[fit]'``. It learns from the utterances of classes,
each of which gives one point of its move or none, on top of what a linear model makes of
all else known of them, so that it takes up what that cannot tell; and from single lines,
each beside the point that it gives and some others, in words of plans.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import torch
from torch import Tensor, nn
from torch.nn import functional

from reviewkit.findings.point_summary import MOST_ODDS
from reviewkit.frames.point_net import (
    BIASES,
    COMPARED,
    COUNTS,
    LOOKS,
    MOST_SENSES,
    MOST_WORDS,
    NOTHING,
    NOTHING_MEANS,
    OUTPUT_BIAS,
    OUTPUTS,
    REACHES,
    SHOWS,
    WHOLE_ASKED,
    WHOLE_SAID,
    word_rows,
)
from reviewkit.frames.terms import term_book
from reviewkit.language.convolution import UNKNOWN, numbered
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
Words = tuple[str, ...]

# The linear part is clipped where its features are far out, and learns faster than the rest.
_FARTHEST, _FASTER, _FIRST_BIAS = 8.0, 3.0, -2.0
_NEVER = 1e4


@dataclass(frozen=True, slots=True)
class Recipe:
    """How large the network is and how it learns.

    ``silent_share`` of the utterances that give nothing are seen in a round, and count for as
    many as there are; each single line is set beside so many ``others`` of the points.
    """

    width: int = 48
    least_lines: int = 3
    rounds: int = 5
    silent_share: float = 0.35
    others: int = 12
    rate: float = 2e-3
    decay: float = 1e-5
    dropout: float = 0.3
    row_dropout: float = 0.1
    word_dropout: float = 0.15
    batch: int = 96
    digits: int = 3


@dataclass(frozen=True, slots=True, eq=False)
class Said:
    """An utterance of a class: the points of its move, all else known of it, which it gives.

    ``features`` has a row for each point and ``share`` one number: equal shares of 1 for those
    that are given, zeros where none is.
    """

    words: Words
    points: tuple[Words, ...]
    features: Floats
    share: Floats


@dataclass(frozen=True, slots=True)
class SingleLine:
    """A line beside a point, by its id: whether it gives it."""

    words: Words
    point: str
    gives: bool


@dataclass(frozen=True, slots=True, eq=False)
class Lesson:
    """What to learn from; ``wordings`` are those of each point, by id."""

    said: Sequence[Said]
    lines: Sequence[SingleLine]
    wordings: dict[str, tuple[Words, ...]]


class _Net(nn.Module):
    def __init__(self, names: int, recipe: Recipe) -> None:
        super().__init__()
        width = recipe.width
        self.meanings = first_meanings(names, width)
        self.layers = dilated(width, REACHES)
        self.looks, self.shows = (nn.Linear(width, width, bias=False) for _ in range(2))
        self.nothing, self.nothing_means = (nn.Parameter(torch.zeros(width)) for _ in range(2))
        self.compared = nn.Linear(len(COMPARED) * width, width)
        self.counts = nn.Linear(width, 1, bias=False)
        self.whole_asked, self.whole_said = (nn.Linear(width, width) for _ in range(2))
        self.outputs = nn.Linear(len(OUTPUTS) * width, 1)
        self.drop, self.drop_rows = nn.Dropout(recipe.dropout), nn.Dropout(recipe.row_dropout)

    def read(self, numbers: Tensor) -> tuple[Tensor, Tensor]:
        """Read texts of words, each word a few numbers of rows: (texts, words, rows)."""
        is_said = (numbers[:, :, 0] > 0).float()
        mask = is_said[:, None]
        own = self.drop_rows(self.meanings(numbers).sum(2))
        seen = functional.relu(self.layers[0](own.transpose(1, 2) * mask)) * mask
        seen = seen + self.drop(functional.relu(self.layers[1](seen))) * mask
        return own + seen.transpose(1, 2), is_said

    def forward(self, said: Tensor, asked: Tensor, of_said: Tensor, of_asked: Tensor) -> Tensor:
        """Weigh pairs, each a place among the utterances and one among the points."""
        (heard, is_heard), (asks, is_asked) = self.read(said), self.read(asked)
        looks = self.looks(asks)[of_asked] * asks.shape[2] ** -0.5
        fits = looks @ self.shows(heard)[of_said].transpose(1, 2)
        fits = fits.masked_fill(is_heard[of_said][:, None] == 0, -_NEVER)
        chosen = torch.softmax(torch.cat([(looks @ self.nothing)[:, :, None], fits], 2), 2)
        found = chosen[:, :, 1:] @ heard[of_said] + chosen[:, :, :1] * self.nothing_means
        own, own_said = asks[of_asked], is_asked[of_asked]
        beside = torch.cat([own, found, own * found, (own - found).abs()], 2)
        compared = functional.relu(self.compared(beside))
        counts = self.counts(own).squeeze(2).masked_fill(own_said == 0, -_NEVER)
        mean = (torch.softmax(counts, 1)[:, :, None] * compared).sum(1)
        most = (compared * own_said[:, :, None]).amax(1)
        whole = (
            _most(self.whole_asked(asks), is_asked)[of_asked]
            * _most(self.whole_said(heard), is_heard)[of_said]
        )
        odds: Tensor = self.outputs(self.drop(torch.cat([mean, most, whole], 1)))
        return odds.squeeze(1)


def _most(shown: Tensor, is_said: Tensor) -> Tensor:
    return (shown - (1 - is_said)[:, :, None] * _NEVER).amax(1)


def train(
    lesson: Lesson, lexicon: Lexicon, recipe: Recipe, *, seed: int = 0
) -> tuple[Weights, Weights]:
    """Train a network, and give the table of its words and that of its layers."""
    torch.manual_seed(seed)
    torch.set_num_threads(1)
    rng = np.random.default_rng(seed)
    texts = _texts(lesson)
    book = term_book(lexicon)
    rows = [word_rows(words, book) for words in texts]
    names = _known(rows, recipe)
    numbers = _numbers(rows, names)
    net = _Net(len(names), recipe)
    features = np.concatenate([one.features for one in lesson.said])
    middle, spread = features.mean(axis=0), features.std(axis=0) + 1e-6
    linear = nn.Linear(features.shape[1], 1)
    nn.init.zeros_(linear.weight)
    nn.init.constant_(linear.bias, _FIRST_BIAS)
    of_line = nn.Parameter(torch.zeros(1))
    optimizer = torch.optim.AdamW(
        [
            {
                "params": [*net.parameters(), of_line],
                "lr": recipe.rate,
                "weight_decay": recipe.decay,
            },
            {"params": linear.parameters(), "lr": recipe.rate, "weight_decay": 0},
        ]
    )
    silent = sum(not one.share.any() for one in lesson.said)
    seen = len(lesson.said) - (1 - recipe.silent_share) * silent + len(lesson.lines)
    schedule = torch.optim.lr_scheduler.OneCycleLR(
        optimizer,
        [recipe.rate, _FASTER * recipe.rate],
        int(1.05 * recipe.rounds * seen / recipe.batch) + 2 * recipe.rounds,
        pct_start=0.1,
    )
    net.train()
    for _ in range(recipe.rounds):
        for batch in _batches(lesson, recipe, rng):
            asked = [_asked(one, lesson, recipe, rng) for one in batch]
            said, points, of_said, of_asked = _pairs(batch, asked, texts, numbers)
            odds = net(
                forget(said, recipe.word_dropout),
                forget(points, recipe.word_dropout),
                of_said,
                of_asked,
            )
            is_line = torch.tensor([isinstance(one, SingleLine) for one in batch])[of_said]
            known = torch.from_numpy(_known_of(batch, asked, middle, spread))
            by_else = torch.where(is_line, of_line, linear(known).squeeze(1))
            share = torch.from_numpy(np.concatenate([pair[1] for pair in asked]))
            counts = torch.tensor([_counts(one, recipe) for one in batch])
            loss = _loss(odds + by_else, share, of_said, counts) / recipe.batch
            optimizer.zero_grad()
            loss.backward()  # type: ignore[no-untyped-call]
            optimizer.step()
            schedule.step()
    return _tables(net, names, recipe)


def _known_of(
    batch: Sequence[Said | SingleLine],
    asked: Sequence[tuple[tuple[Words, ...], Floats]],
    middle: Floats,
    spread: Floats,
) -> Floats:
    """Give what else is known of each pair, evened out; nothing of single lines."""
    rows = [
        (one.features - middle) / spread
        if isinstance(one, Said)
        else np.zeros((len(points), len(middle)))
        for one, (points, _) in zip(batch, asked, strict=True)
    ]
    return np.concatenate(rows).clip(-_FARTHEST, _FARTHEST).astype(np.float32)


def _counts(one: Said | SingleLine, recipe: Recipe) -> float:
    """Say for how many an utterance or line counts."""
    is_silent = isinstance(one, Said) and not one.share.any()
    return 1 / recipe.silent_share if is_silent else 1.0


def _loss(odds: Tensor, share: Tensor, of_said: Tensor, counts: Tensor) -> Tensor:
    """Give the log loss of each utterance giving one of its points or none, added up."""
    weights = torch.exp(odds.clamp(max=MOST_ODDS))
    total = 1 + torch.zeros(len(counts)).index_add(0, of_said, weights)
    told = torch.zeros(len(counts)).index_add(0, of_said, share * odds)
    return ((torch.log(total) - told) * counts).sum()


# --- what is learned from ------------------------------------------------------------


def _texts(lesson: Lesson) -> dict[Words, int]:
    """Number all texts."""
    texts: dict[Words, int] = {}
    for one in lesson.said:
        for words in (one.words, *one.points):
            texts.setdefault(words, len(texts))
    for words in (
        *(line.words for line in lesson.lines),
        *(words for many in lesson.wordings.values() for words in many),
    ):
        texts.setdefault(words, len(texts))
    return texts


def _known(rows: Sequence[Sequence[tuple[str, ...]]], recipe: Recipe) -> dict[str, int]:
    """Number the stems of enough texts and all senses; the unknown stem is first."""
    said = Counter(name for text in rows for name in {word[0] for word in text})
    stems = sorted(name for name, count in said.items() if count >= recipe.least_lines)
    senses = sorted({name for text in rows for word in text for name in word[1:]})
    kept = dict.fromkeys([UNKNOWN, *stems, *senses])
    return {name: number for number, name in enumerate(kept, start=UNKNOWN_ROW)}


def _numbers(rows: Sequence[Sequence[tuple[str, ...]]], names: dict[str, int]) -> Indexes:
    """Number the rows of every word, shape (texts, words, rows), zeros behind them."""
    numbers = np.zeros((len(rows), MOST_WORDS, 1 + MOST_SENSES), dtype=np.int64)
    for text, cells in zip(rows, numbers, strict=True):
        for (stem, *senses), cell in zip(text, cells, strict=False):
            own = [names.get(stem, UNKNOWN_ROW), *(names[name] for name in senses)]
            cell[: len(own)] = own
    return numbers


def _batches(
    lesson: Lesson, recipe: Recipe, rng: np.random.Generator
) -> Iterator[list[Said | SingleLine]]:
    """Put utterances and lines of about the same length together, in ever another order."""
    seen: list[Said | SingleLine] = [
        one for one in lesson.said if one.share.any() or rng.random() < recipe.silent_share
    ]
    seen += lesson.lines
    lengths = np.array([len(one.words) for one in seen]) + 6 * rng.random(len(seen))
    order = np.argsort(lengths)
    batches = [order[at : at + recipe.batch] for at in range(0, len(order), recipe.batch)]
    for at in rng.permutation(len(batches)).tolist():
        yield [seen[place] for place in batches[at].tolist()]


def _asked(
    one: Said | SingleLine, lesson: Lesson, recipe: Recipe, rng: np.random.Generator
) -> tuple[tuple[Words, ...], Floats]:
    """Give the points that are set beside an utterance, and its shares of them."""
    if isinstance(one, Said):
        return one.points, one.share
    ids = list(lesson.wordings)
    others = (ids[at] for at in rng.choice(len(ids), recipe.others, replace=False).tolist())
    chosen = [one.point, *(point for point in others if point != one.point)]
    points = []
    for point in chosen:
        wordings = lesson.wordings[point]
        points.append(wordings[int(rng.integers(len(wordings)))])
    share = np.zeros(len(points), np.float32)
    share[0] = one.gives
    return tuple(points), share


def _pairs(
    batch: Sequence[Said | SingleLine],
    asked: Sequence[tuple[tuple[Words, ...], Floats]],
    texts: dict[Words, int],
    numbers: Indexes,
) -> tuple[Tensor, Tensor, Tensor, Tensor]:
    """Give the numbers of a batch's utterances and points, and which pairs they are in."""
    points: dict[int, int] = {}
    of_said, of_asked = [], []
    for place, (own, _) in enumerate(asked):
        for words in own:
            of_said.append(place)
            of_asked.append(points.setdefault(texts[words], len(points)))
    said = numbers[[texts[one.words] for one in batch]]
    return (
        _trimmed(said),
        _trimmed(numbers[list(points)]),
        torch.tensor(of_said),
        torch.tensor(of_asked),
    )


def _trimmed(numbers: Indexes) -> Tensor:
    longest = max(1, int((numbers[:, :, 0] > 0).sum(axis=1).max()))
    return torch.from_numpy(numbers[:, :longest].copy())


# --- as tables -----------------------------------------------------------------------


def _tables(net: _Net, names: dict[str, int], recipe: Recipe) -> tuple[Weights, Weights]:
    width = recipe.width
    digits = recipe.digits
    layers = convolutions_as_rows(net.layers, width, digits)
    compared = net.compared.weight.T.reshape(len(COMPARED), width, width)
    matrices = {
        LOOKS: net.looks.weight.T,
        SHOWS: net.shows.weight.T,
        **dict(zip(COMPARED, compared, strict=True)),
        WHOLE_ASKED: net.whole_asked.weight.T,
        WHOLE_SAID: net.whole_said.weight.T,
    }
    for name, matrix in matrices.items():
        layers |= as_rows(numbered(name, width), matrix, digits)
    biases = (net.compared.bias, net.whole_asked.bias, net.whole_said.bias)
    singles = {
        NOTHING: net.nothing,
        NOTHING_MEANS: net.nothing_means,
        **dict(zip(BIASES, biases, strict=True)),
        COUNTS: net.counts.weight,
        **dict(zip(OUTPUTS, net.outputs.weight.reshape(len(OUTPUTS), width), strict=True)),
        OUTPUT_BIAS: torch.cat([net.outputs.bias, torch.zeros(width - 1)]),
    }
    for name, row in singles.items():
        layers |= as_rows([name], row, digits)
    columns = tuple(str(number) for number in range(1, width + 1))
    words = as_rows(list(names), net.meanings.weight[1:], digits)
    return Weights(columns, words), Weights(columns, layers)
