from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from reviewkit.model import (
    Correction,
    DoneInterval,
    MarkedPoint,
    MovedEdge,
    NamedMove,
    Review,
    SetAside,
)
from reviewkit.store import StoredCorrection
from reviewkit.web.card_views import CorrectionView
from reviewkit.web.corrected_views import correction_views
from tests.report.sample import sample_review

SAID = MarkedPoint(
    "Bodyweight squat", "knees over the toes", "said", 108_000, "let the knees follow, the toes"
)


def told(*corrections: Correction) -> tuple[CorrectionView, ...]:
    at = datetime(2026, 1, 2, tzinfo=UTC)
    stored = [StoredCorrection(number, at, one) for number, one in enumerate(corrections, 1)]
    review = known_point()
    return correction_views(stored, review, review.heard)


def known_point() -> Review:
    """Give the sample with its first squat point known to the lexicon."""
    sample = sample_review()
    moves = list(sample.findings.moves)
    first, *others = moves[1].points
    moves[1] = replace(moves[1], points=(replace(first, point_id="knees-track-toes"), *others))
    return replace(sample, findings=replace(sample.findings, moves=tuple(moves)))


def test_the_last_correction_comes_first() -> None:
    views = told(MovedEdge("i2", "end", 140_000), NamedMove("i2", "Lunge"))
    assert [one.id for one in views] == [2, 1]
    assert [one.what for one in views] == [
        "Interval 2, Bodyweight squat, was Lunge",
        "Interval 2, Bodyweight squat, ends at 2:20.0",
    ]
    assert {one.item for one in views} == {"interval-i2"}


def test_an_interval_done_after_all_is_told_with_its_times() -> None:
    (view,) = told(DoneInterval("i2", 101_000, 140_500))
    assert view.what == "Interval 2, Bodyweight squat, was done from 1:41.0 to 2:20.5"
    assert view.item == "interval-i2"


def test_an_interval_that_is_gone_is_still_told_of() -> None:
    (view,) = told(NamedMove("a9", ""))
    assert (view.what, view.item) == ("An interval of no plan was not done", "")


def test_words_that_gave_a_point_are_offered_as_a_line_of_the_lexicon() -> None:
    (view,) = told(SAID)
    assert view.item == "point-1-0"
    assert view.offer is not None
    assert view.offer.line == '"let the knees follow, the toes",knees-track-toes'


def test_what_is_set_aside_is_named_with_its_reason() -> None:
    keys = ("length i2", "time call 66300", "promise work 11400", "risky_talk 368000", "gone 5")
    views = told(*(SetAside(key, "no matter") for key in keys))
    assert [one.what.removeprefix("Set aside: ") for one in reversed(views)] == [
        "the length of Bodyweight squat",
        "time call “halfway”",
        "promise “forty on”",
        "risky talk at 6:08",
        "a finding that is no longer there",
    ]
    assert {one.reason for one in views} == {"no matter"}
