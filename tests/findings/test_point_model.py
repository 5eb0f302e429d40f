from __future__ import annotations

import numpy as np
import pytest

from reviewkit.findings.point_features import FEATURES
from reviewkit.findings.point_model import Weighing
from reviewkit.findings.point_summary import SUMMARY, TIMING
from reviewkit.findings.point_weights import MODELS


def test_weights_are_taken_by_name_and_the_bias_is_added() -> None:
    weighing = Weighing(-1.0, {"far": 3.0, "near": 0.5})
    assert weighing.odds(np.array([[2.0, 1.0]]), ("near", "far")) == pytest.approx([3.0])
    assert weighing.chances(np.array([[2.0, 0.0]]), ("near", "far")) == pytest.approx([0.5])


def test_every_clock_has_a_weight_for_all_that_is_heard() -> None:
    assert set(MODELS) == {"words", "captions", "blocks"}
    for model in MODELS.values():
        assert set(model.utterance.weights) == set(FEATURES)
        assert set(model.said.weights) == set(SUMMARY)
        assert set(model.late.weights) == set(TIMING)
