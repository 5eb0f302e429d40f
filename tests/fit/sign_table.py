"""Turn named signs into the matrix that a linear model is fitted on, and its weights back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np
from sklearn.feature_extraction import DictVectorizer

from reviewkit.findings.weighing import BIAS
from reviewkit.model import Weights

_DIGITS = 2


def as_matrix(rows: Iterable[Mapping[str, float]]) -> tuple[DictVectorizer, Any]:
    """Give a table of the signs' names, and a sparse matrix with one row for each mapping."""
    table = DictVectorizer()
    values = table.fit_transform(rows)
    # The solvers want short indices, whatever the table chose.
    values.indices, values.indptr = (
        array.astype(np.int32) for array in (values.indices, values.indptr)
    )
    return table, values


def as_weights(table: DictVectorizer, model: Any, output: str, least: float) -> Weights:
    """Give the weights of a model of one output, those left out that tell less than ``least``."""
    weights = zip(table.get_feature_names_out(), model.coef_[0], strict=True)
    told = {name: (round(float(w), _DIGITS),) for name, w in weights if abs(w) >= least}
    return Weights((output,), {BIAS: (round(float(model.intercept_[0]), _DIGITS),), **told})
