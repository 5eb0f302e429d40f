from __future__ import annotations

import pickle
from dataclasses import replace

import pytest

from reviewkit.errors import ReviewkitError
from reviewkit.store import Missing
from tests.store.build import A_REVIEW


def test_a_moment_without_a_time_zone_is_refused() -> None:
    with pytest.raises(ValueError, match=r"2024-05-07 .* has no time zone"):
        replace(A_REVIEW, made_at=A_REVIEW.made_at.replace(tzinfo=None))


def test_missing_says_what_is_missing() -> None:
    missing = Missing("lexicon line", 7)
    assert isinstance(missing, ReviewkitError)
    assert str(missing) == "there is no lexicon line 7; it may have been deleted"
    assert str(pickle.loads(pickle.dumps(missing))) == str(missing)  # noqa: S301 - our own
