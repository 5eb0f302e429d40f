from __future__ import annotations

import pytest

from reviewkit.findings.scores import score_class
from reviewkit.report.formulae import PARTS
from tests.report.sample import sample_review


def test_the_weights_told_are_the_weights_used() -> None:
    review = sample_review()
    found = review.findings
    scores = dict(
        score_class(
            review.heard, found.talk, found.moves, found.time_calls, found.promises, found.flags
        )
    )
    assert set(scores) == set(PARTS)
    for name, score in scores.items():
        assert [part for part, _ in score.parts] == list(PARTS[name])
        told = [(PARTS[name][part].weight, value) for part, value in score.parts]
        known = [(weight, value) for weight, value in told if value is not None]
        mean = sum(weight * value for weight, value in known) / sum(weight for weight, _ in known)
        assert score.value == pytest.approx(mean, abs=0.2)
