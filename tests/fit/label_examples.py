"""Utterances with their labels, and how risky they are, to fit the labels of talk on.

They come from ``fixtures/lines/lines.csv`` (single ones), ``fixtures/lines/voices.csv`` (of
many voices), ``fixtures/lines/risk.csv`` (labelled risky or harmless and nothing else) and
from the lines said in all labelled classes, which weigh less because praise and
announcements are labelled more sparsely there.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np
import numpy.typing as npt

from reviewkit.evaluate import LabelledClass
from reviewkit.language.numbers import number_value
from reviewkit.language.tokens import norm
from reviewkit.marks.label_net import RISK
from reviewkit.marks.labels import LABELS
from reviewkit.model import Label, Lexicon, Weights
from tests.corpus import FIXTURES
from tests.fit.label_training import Lesson, Recipe, train

LINES = FIXTURES / "lines" / "lines.csv"
VOICES = FIXTURES / "lines" / "voices.csv"
RISKS = FIXTURES / "lines" / "risk.csv"
# Lines of whole classes weigh less, least where they are labelled more sparsely.
CLASS_WEIGHT = 0.2
SPARSE_WEIGHT = 0.03
SPARSE = ("motivation", "announcement", "rest", "time_call")
PAIR_WEIGHT = 0.3
PAIRS = 8000
# What it counts whether a line is risky: one that is, in a class and by itself, one that is
# written to sound so, and one that was written for its labels.
RISKY_WEIGHT, ALONE_WEIGHT, HARMLESS_WEIGHT, LABELLED_WEIGHT = 4.0, 2.0, 1.5, 0.5
# How much of what is told of labels is the network's; of risks the sum is told.
NET_SHARE = 0.4
FOLDS = 5

Source = Literal["line", "voice", "class", "pair", "risk"]
SINGLE = ("line", "voice")
Floats = npt.NDArray[np.float32]


@dataclass(frozen=True)
class Example:
    """One utterance; ``voice`` is who said it, and all of a voice are left out together."""

    source: Source
    voice: str
    words: tuple[str, ...]
    labels: frozenset[str]

    def weigh(self, label: Label) -> float:
        """Give how much it counts whether the line has a label."""
        of_class = SPARSE_WEIGHT if label in SPARSE else CLASS_WEIGHT
        weights = {"pair": PAIR_WEIGHT, "class": of_class, "risk": 0.0}
        return weights.get(self.source, 1.0)

    @property
    def risk_weight(self) -> float:
        """How much it counts whether the line is risky."""
        if self.source == "class":
            return RISKY_WEIGHT if RISK in self.labels else 1.0
        if self.source == "risk":
            return ALONE_WEIGHT if RISK in self.labels else HARMLESS_WEIGHT
        return LABELLED_WEIGHT * self.weigh("form")


def split(text: str) -> tuple[str, ...]:
    """Cut a text into normalised words."""
    return tuple(word for word in (norm(part) for part in text.split()) if word)


def read_examples(classes: Sequence[LabelledClass]) -> list[Example]:
    """Read the utterances of the fixtures and of some classes, with pairs of them.

    Counts are left to their detector.
    """
    examples = [*_read_table(LINES, "line"), *_read_table(VOICES, "voice")]
    for labelled in classes:
        risky = set(risky_starts(labelled))
        for said in labelled.said:
            words = split(said.text)
            if not all(word == "and" or number_value([word]) is not None for word in words):
                labels = frozenset(said.labels) & set(LABELS)
                labels |= {RISK} if said.start_ms in risky else set()
                examples.append(Example("class", labelled.name, words, labels))
    return _with_pairs([*examples, *_read_risks()])


def _read_table(path: Path, source: Source) -> list[Example]:
    """Read a table of utterances; in one without voices each is a voice of its own."""
    with path.open(encoding="utf-8", newline="") as file:
        return [
            Example(
                source,
                row.get("voice") or row["text"],
                split(row["text"]),
                frozenset(row["labels"].split()),
            )
            for row in csv.DictReader(file)
        ]


def _read_risks() -> list[Example]:
    with RISKS.open(encoding="utf-8", newline="") as file:
        return [
            Example(
                "risk",
                row["voice"],
                split(row["text"]),
                frozenset({RISK} if row["verdict"] else ()),
            )
            for row in csv.DictReader(file)
        ]


def risky_starts(labelled: LabelledClass) -> list[int]:
    """Give the starts of the lines of a class that share most words with the true risky ones."""
    texts = [one.details["text"] for one in labelled.anomalies if one.kind == "risky_talk"]
    return [
        max(labelled.said, key=lambda line: _shared(line.text, text)).start_ms
        for text in filter(None, texts)
    ]


def _shared(one: str, other: str) -> float:
    own, its = set(one.lower().split()), set(other.lower().split())
    return len(own & its) / len(own | its)


def _with_pairs(examples: Sequence[Example]) -> list[Example]:
    """Add pairs of utterances said as one, with the labels of both.

    Both are of voices in the same fold, so that a pair is left out with either.
    """
    rng = np.random.default_rng(0)
    single = [example for example in examples if example.source in SINGLE]
    of_fold = deal_folds(single)
    between: tuple[tuple[str, ...], ...] = ((), ("and",), ("so",), ("now",))
    made = []
    for fold in range(FOLDS):
        own = np.flatnonzero(of_fold == fold)
        for at, other_at, joint in zip(
            rng.choice(own, PAIRS // FOLDS),
            rng.choice(own, PAIRS // FOLDS),
            rng.integers(len(between), size=PAIRS // FOLDS),
            strict=True,
        ):
            one, other = single[at], single[other_at]
            words = one.words + between[joint] + other.words
            made.append(Example("pair", one.voice, words, one.labels | other.labels))
    return [*examples, *made]


def deal_folds(examples: Sequence[Example]) -> npt.NDArray[np.int64]:
    """Deal voices and whole classes out to folds, each kind by itself."""
    folds = np.zeros(len(examples), dtype=np.int64)
    kinds = np.array([_kind(example) for example in examples])
    for kind in np.unique(kinds):
        rng = np.random.default_rng(1)
        own = [example.voice for example in examples if _kind(example) == kind]
        names = sorted(set(own))
        dealt = dict(zip(names, rng.permutation(len(names)) % FOLDS, strict=True))
        folds[kinds == kind] = [dealt[name] for name in own]
    return folds


def _kind(example: Example) -> str:
    return example.source if example.source in ("class", "risk") else "voice"


def train_net(examples: Sequence[Example], lexicon: Lexicon) -> tuple[Weights, Weights]:
    """Train the network of all labels and of risk on some utterances."""
    names = (*LABELS, RISK)
    weights = [[*(one.weigh(label) for label in LABELS), one.risk_weight] for one in examples]
    lesson = Lesson(
        lines=[example.words for example in examples],
        truth=np.array([[name in one.labels for name in names] for one in examples], np.float32),
        weight=np.array(weights, np.float32),
        is_other=np.array([example.source == "class" for example in examples]),
    )
    return train(lesson, {**dict.fromkeys(LABELS, NET_SHARE), RISK: 1.0}, lexicon, Recipe())
