from __future__ import annotations

from dataclasses import replace

import pytest

from reviewkit.model import Review
from reviewkit.web.card_views import Card, ClockFields, CorrectionView
from reviewkit.web.cards import clock_fields, find_card
from reviewkit.web.review_view import Finder
from reviewkit.web.track import draw_track
from tests.report.hostile import hostile_review
from tests.report.sample import corrected_review, sample_review


def card(item: str, review: Review | None = None) -> Card:
    found = find_card(review or sample_review(), item)
    assert found is not None
    return found


def _ms(fields: ClockFields) -> int:
    return 60_000 * int(fields.minutes) + round(1000 * float(fields.seconds))


@pytest.mark.parametrize(
    "item", ["", "interval", "interval-i99", "point-0-99", "flag-dead_air-1", "other-1", "../x"]
)
def test_a_thing_that_is_not_there_has_no_card(item: str) -> None:
    assert find_card(sample_review(), item) is None


@pytest.mark.parametrize("review", [sample_review(), hostile_review()], ids=["sample", "hostile"])
def test_whatever_is_drawn_has_a_card(review: Review) -> None:
    drawn = [part.split('"')[0] for part in draw_track(review, "").svg.split('data-item="')[1:]]
    assert drawn
    for item in dict.fromkeys(drawn):
        assert card(item, review).item == item


def test_an_interval_can_be_moved_and_named() -> None:
    found = card("interval-i2")
    assert (found.title, found.over) == ("Bodyweight squat", "Interval 2, Main, round 1")
    assert dict(found.facts)["Began"] == "1:40.6 (1:40.0 to 1:41.2)"
    assert found.interval is not None
    assert found.interval.start == ClockFields("1", "40.6")
    assert found.interval.done == "Bodyweight squat"
    assert "Plank hold" in found.interval.moves
    assert found.finding == "length i2"


def test_a_swapped_interval_names_what_was_done() -> None:
    found = card("interval-i8").interval
    assert found is not None
    assert found.done == "Star jump"


def test_a_skipped_interval_can_be_done_where_the_plan_would_have_it() -> None:
    found = card("interval-i13")
    assert (found.at, found.finding) == (None, "")
    assert found.reasons
    assert found.interval is not None
    assert not found.interval.is_done
    planned = next(one for one in sample_review().heard.intervals if one.id == "i13").planned_ms
    start, end = (_ms(fields) for fields in (found.interval.start, found.interval.end))
    assert end - start == planned


def test_an_interval_on_time_has_no_finding_to_set_aside() -> None:
    assert card("interval-i1").finding == ""


def test_a_point_offers_lines_near_its_move_before_the_others() -> None:
    found = card("point-1-0")
    assert found.point is not None
    near = {line.words for line in found.point.near}
    assert "let the knees follow the toes" in near
    assert "slow breath in and a longer one out" not in near
    lines = (*found.point.near, *found.point.others)
    assert sorted(line.at_ms for line in lines) == Finder(sample_review()).starts
    chosen = [line.words for line in lines if line.is_chosen]
    assert len(chosen) == 1


def test_what_is_right_cannot_be_set_aside_and_what_is_wrong_can() -> None:
    assert card("call-66300").finding
    assert not card("call-272700").finding
    assert card("promise-work-11400").finding
    assert not card("promise-minutes-9000").finding
    assert card("flag-risky_talk-368000").instead == "“Keep breathing, small and steady.”"


def test_what_was_set_aside_says_so() -> None:
    found = card("flag-dead_air-302000", corrected_review()).verdict
    assert found is not None
    assert found.note == "set aside: heard wrongly"


def test_a_contradiction_shows_both_lines() -> None:
    assert len(card("flag-contradiction-348400").said) == 2


def test_a_card_has_the_corrections_of_its_item_alone() -> None:
    one = CorrectionView(4, "Interval 2 ends at 2:20.0", "", None, "interval-i2", None)
    other = replace(one, id=5, item="interval-i3")
    found = find_card(sample_review(), "interval-i2", (one, other))
    assert found is not None
    assert [each.id for each in found.corrections] == [4]


@pytest.mark.parametrize(
    ("at_ms", "fields"),
    [
        (0, ClockFields("0", "0.0")),
        (59_949, ClockFields("0", "59.9")),
        (59_950, ClockFields("1", "0.0")),
        (3_725_040, ClockFields("62", "5.0")),
    ],
)
def test_a_moment_becomes_minutes_and_tenths(at_ms: int, fields: ClockFields) -> None:
    assert clock_fields(at_ms) == fields
