"""Fit the two tables of words that points are judged with, on labelled classes.

``cues.csv``: logistic regression (L2) over the words and pairs of words of every line,
once for giving some point of the plan and once for coaching form or safety.

``spoken.csv``: the first translation model of P. Brown et al. (1993), Computational
Linguistics 19(2), 263-311, from the terms of a written point to those of the lines that
give it, by expectation maximisation, with the words of all such lines as prior; the
lexicon's own wordings of its points are pairs as well.

``fit_points`` calls this and writes the tables.
"""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from scipy import sparse
from sklearn.linear_model import LogisticRegression

from reviewkit.evaluate import LabelledClass, SaidLine
from reviewkit.findings.point_features import LINES_LIST
from reviewkit.frames.cue_words import BIAS, CUE_WEIGHTS, OUTPUTS, cue_features
from reviewkit.frames.meant import MEANT_WEIGHTS
from reviewkit.frames.spoken import BY_CHANCE, GIVES, SPOKEN_WEIGHTS, spoken_terms
from reviewkit.frames.terms import term_book, words_of
from reviewkit.model import Lexicon, Weights
from tests.corpus import FIXTURES
from tests.fit.point_lessons import written_lines

FITTED_FOLDER = FIXTURES.parent / "lexicons" / "en" / "fitted"

# A word or pair counts as a feature when so many classes have it.
_FEWEST_CLASSES = 5
_STRENGTH = 0.3
_LEAST_WEIGHT = 0.1

_ROUNDS = 6
# How many times each written term counts as having been answered by any word of a cue.
_PRIOR_TIMES = 12.0
# A pair is kept when heard so many times as often as in cues at large, and so often.
_LEAST_ODDS, _FEWEST_TIMES = 2.0, 0.5
_HALF = 0.5

Pair = tuple[tuple[str, ...], tuple[str, ...]]


def with_words_of(classes: Sequence[LabelledClass], lexicon: Lexicon) -> Lexicon:
    """Give the lexicon with both tables fitted on these classes and no others."""
    names = {one.name for one in classes}
    tables = {CUE_WEIGHTS: fit_cues(classes), SPOKEN_WEIGHTS: fit_spoken(classes, lexicon, names)}
    return replace(lexicon, weights={**lexicon.weights, **tables})


def fit_cues(classes: Sequence[LabelledClass]) -> Weights:
    """Fit which words make a line a cue."""
    lines = [(one.name, line) for one in classes for line in one.said]
    found = [cue_features(words_of(line.text)) for _, line in lines]
    having: dict[str, set[str]] = {}
    for (name, _), features in zip(lines, found, strict=True):
        for feature in features:
            having.setdefault(feature, set()).add(name)
    known = sorted(one for one, names in having.items() if len(names) >= _FEWEST_CLASSES)
    place = {feature: number for number, feature in enumerate(known)}
    matrix = _matrix([[place[one] for one in row if one in place] for row in found], len(known))
    models = [
        LogisticRegression(C=_STRENGTH, solver="liblinear").fit(
            matrix, [bool(truth(line)) for _, line in lines]
        )
        for truth in (_gives, _coaches)
    ]
    weights = np.array([model.coef_[0] for model in models])
    weights[np.abs(weights) < _LEAST_WEIGHT] = 0
    rows = {
        feature: tuple(round(float(value), 2) for value in weights[:, number])
        for number, feature in enumerate(known)
        if weights[:, number].any()
    }
    bias = tuple(round(float(model.intercept_[0]), 2) for model in models)
    return Weights(OUTPUTS, {BIAS: bias, **rows})


def _gives(line: SaidLine) -> bool:
    return bool(line.points)


def _coaches(line: SaidLine) -> bool:
    return "form" in line.labels or "safety" in line.labels


def _matrix(rows: Sequence[Sequence[int]], width: int) -> Any:
    bounds = np.cumsum([0, *map(len, rows)])
    flat = np.array([number for row in rows for number in row])
    return sparse.csr_matrix((np.ones(len(flat)), flat, bounds), shape=(len(rows), width))


def fit_spoken(
    classes: Sequence[LabelledClass], lexicon: Lexicon, names: Collection[str]
) -> Weights:
    """Fit which words coaches give a written point with.

    Args:
        classes: Their lines give the points of their plans.
        lexicon: Its points' wordings are given points as well.
        names: Classes whose gathered lines may be used; lines by hand always are.
    """
    book = term_book(lexicon)
    written = ((point, line) for point, gives, line in written_lines() if gives)
    pairs = [
        (asked, heard)
        for point, line in (*_of_classes(classes), *_of_lexicon(lexicon, names), *written)
        if (asked := spoken_terms(words_of(point), book))
        and (heard := spoken_terms(words_of(line), book))
    ]
    fitted = _translate(pairs)
    rows: dict[str, tuple[float, ...]] = {
        asked: (round(float(np.log(usual)), 2),) for asked, usual in fitted.usual.items()
    }
    for (one, other), odds, times in fitted.pairs:
        if odds >= _LEAST_ODDS and times >= _FEWEST_TIMES:
            rows[one + GIVES + other] = (round(float(np.log(odds)), 2),)
    return Weights(("odds",), rows)


def _of_classes(classes: Iterable[LabelledClass]) -> Iterator[tuple[str, str]]:
    """Give the points of plans with the lines that give them, each pair of a class once."""
    for one in classes:
        yield from dict.fromkeys((point, line.text) for line in one.said for point in line.points)


def _of_lexicon(lexicon: Lexicon, names: Collection[str]) -> Iterator[tuple[str, str]]:
    """Give the lexicon's points with their wordings; lines of other classes stay out."""
    lines: dict[str, list[str]] = {}
    for line in lexicon.lists.get(LINES_LIST, ()):
        if not line.note or line.note in names:
            lines.setdefault(line.label, []).append(line.phrase)
    for point in lexicon.points:
        for wording in (point.line, *point.phrases, *point.images, *lines.get(point.id, ())):
            yield point.say, wording


@dataclass(frozen=True, slots=True)
class _Translation:
    """Odds of heard terms against all cues: ``usual`` ones of each term, and of pairs.

    Each pair comes with its odds and how many times it was heard.
    """

    usual: dict[str, float]
    pairs: tuple[tuple[tuple[str, str], float, float], ...]


def _translate(pairs: Sequence[Pair]) -> _Translation:
    """Fit the translation model; see the module's source."""
    asked = {term: number for number, term in enumerate(sorted({a for p, _ in pairs for a in p}))}
    heard = {term: number for number, term in enumerate(sorted({h for _, p in pairs for h in p}))}
    # One slot for each heard term of each line; one entry for each asked term beside it.
    slots = [(heard[term], [asked[one] for one in point]) for point, line in pairs for term in line]
    heard_of = np.array([term for term, _ in slots])
    counts = Counter(map(int, heard_of))
    share = np.array([counts[number] + _HALF for number in range(len(heard))])
    share /= share.sum()
    sizes = np.array([len(one) for _, one in slots])
    slot = np.repeat(np.arange(len(slots)), sizes)
    flat = np.concatenate([one for _, one in slots])
    kinds, entry = np.unique(flat * len(heard) + heard_of[slot], return_inverse=True)
    of_asked, of_heard = kinds // len(heard), kinds % len(heard)
    by_chance = share[heard_of] * BY_CHANCE * sizes
    chance = share[of_heard]
    for _ in range(_ROUNDS):
        own = chance[entry]
        part = own / (np.bincount(slot, own, len(slots)) + by_chance)[slot]
        times = np.bincount(entry, part, len(kinds))
        total = np.bincount(of_asked, times, len(asked))
        chance = (times + _PRIOR_TIMES * share[of_heard]) / (total[of_asked] + _PRIOR_TIMES)
    odds = chance / share[of_heard]
    names, terms = list(asked), list(heard)
    return _Translation(
        {term: _PRIOR_TIMES / (total[number] + _PRIOR_TIMES) for term, number in asked.items()},
        tuple(
            ((names[one], terms[other]), float(odds[kind]), float(times[kind]))
            for kind, (one, other) in enumerate(zip(of_asked, of_heard, strict=True))
        ),
    )


def write_words(lexicon: Lexicon) -> None:
    """Write the tables of words of a lexicon to its folder of fitted models."""
    for name, digits in ((CUE_WEIGHTS, 2), (SPOKEN_WEIGHTS, 2), (MEANT_WEIGHTS, 3)):
        weights = lexicon.weights[name]
        with (FITTED_FOLDER / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file, lineterminator="\n")
            writer.writerow(("feature", *weights.outputs))
            for feature, row in sorted(weights.rows.items()):
                writer.writerow(
                    (feature, *(f"{value:.{digits}f}" if value else "" for value in row))
                )
