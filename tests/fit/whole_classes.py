"""What fits on whole classes share: which classes, and each judged by weights of the others."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Protocol, TypeVar

import numpy as np
from numpy.typing import NDArray

from reviewkit.evaluate import LabelledClass
from reviewkit.model import Weights
from tests.corpus import FIXTURES, is_short, load_classes

Floats = NDArray[np.float64]


class OfClass(Protocol):
    """Something to fit on or to judge that belongs to a class."""

    @property
    def name(self) -> str:
        """Name the class."""


Case = TypeVar("Case", bound=OfClass)


def parse_options(text: str) -> argparse.Namespace:
    """Read the command line of a fit; ``text`` says what it does."""
    parser = argparse.ArgumentParser(description=text)
    parser.add_argument("classes", type=Path, nargs="*", default=[FIXTURES])
    parser.add_argument("--only", default="")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("-v", action="store_true")
    parser.add_argument("--write", action="store_true")
    return parser.parse_args()


def chosen_classes(options: argparse.Namespace) -> list[LabelledClass]:
    """Load the whole classes that were asked for, all of them by default."""
    only = set(filter(None, options.only.split(",")))
    return [
        one
        for folder in options.classes
        for one in load_classes(folder)
        if not is_short(one.name) and (not only or one.name in only)
    ]


def left_out(
    cases: Sequence[Case],
    folds: int,
    fit: Callable[[Sequence[Case]], Weights],
    judge: Callable[[Case, Weights], float],
) -> Floats:
    """Judge each case by weights that were fitted on classes of the other folds.

    Returns:
        What ``judge`` says of each case, of shape (n,).
    """
    names = sorted({case.name for case in cases})
    fold = {name: at % folds for at, name in enumerate(names)}
    told = np.zeros(len(cases))
    for one in range(folds):
        weights = fit([case for case in cases if fold[case.name] != one])
        for at, case in enumerate(cases):
            if fold[case.name] == one:
                told[at] = judge(case, weights)
    return told
