"""Tell a coach's corrections in words, each with what it is about."""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.corrections import key_of, key_of_point
from reviewkit.model import (
    DoneInterval,
    HeardClass,
    Lexicon,
    MarkedPoint,
    MovedEdge,
    NamedMove,
    PointFinding,
    Review,
)
from reviewkit.report.wording import clean, name_kind, quote, say_moment
from reviewkit.store import StoredCorrection
from reviewkit.web.card_views import CorrectionView
from reviewkit.web.items import (
    call_item,
    flag_item,
    interval_item,
    point_item,
    promise_item,
)
from reviewkit.web.offers import offer_of
from reviewkit.web.review_view import Finder

_Place = tuple[str, str]


def correction_views(
    stored: Sequence[StoredCorrection],
    review: Review,
    heard: HeardClass,
) -> tuple[CorrectionView, ...]:
    """Tell all corrections of a review, the last one first.

    Args:
        stored: As kept, in the order in which they were made.
        review: The review as it stands, corrections in.
        heard: The class as heard, before any of them.
    """
    find = Finder(review)
    moves = {one.id: clean(one.move) for one in heard.intervals}
    points = _points(review)
    findings = findings_by_key(review)
    views = [_view(one, find, moves, points, findings, heard.lexicon) for one in stored]
    return tuple(reversed(views))


def _view(
    stored: StoredCorrection,
    find: Finder,
    moves: dict[str, str],
    points: dict[tuple[str, str], tuple[str, PointFinding]],
    findings: dict[str, _Place],
    lexicon: Lexicon,
) -> CorrectionView:
    one = stored.correction
    if isinstance(one, MovedEdge):
        verb = "begins" if one.edge == "start" else "ends"
        what = f"{_interval_words(one.interval, find, moves)} {verb} at {_exact(one.at_ms)}"
        item = interval_item(one.interval)
        return CorrectionView(stored.id, what, "", find.moment(one.at_ms), item, None)
    if isinstance(one, NamedMove):
        name = clean(one.move)
        what = f"{_interval_words(one.interval, find, moves)} was {name or 'not done'}"
        item = interval_item(one.interval) if one.interval in find.numbers else ""
        return CorrectionView(stored.id, what, "", None, item, None)
    if isinstance(one, DoneInterval):
        interval = _interval_words(one.interval, find, moves)
        what = f"{interval} was done from {_exact(one.start_ms)} to {_exact(one.end_ms)}"
        item = interval_item(one.interval) if one.interval in find.numbers else ""
        return CorrectionView(stored.id, what, "", find.moment(one.start_ms), item, None)
    if isinstance(one, MarkedPoint):
        return _marked(stored.id, one, find, points, lexicon)
    words, item = findings.get(one.finding, ("a finding that is no longer there", ""))
    return CorrectionView(stored.id, f"Set aside: {words}", clean(one.reason), None, item, None)


def _interval_words(interval: str, find: Finder, moves: dict[str, str]) -> str:
    number = find.numbers.get(interval)
    name = moves.get(interval, "")
    return f"Interval {number}, {name}," if number else f"An interval of {name or 'no plan'}"


def _exact(at_ms: int) -> str:
    tenths = round(at_ms / 100)
    return f"{say_moment(100 * tenths)}.{tenths % 10}"


def _marked(
    number: int,
    one: MarkedPoint,
    find: Finder,
    points: dict[tuple[str, str], tuple[str, PointFinding]],
    lexicon: Lexicon,
) -> CorrectionView:
    item, point = points.get((one.move, one.point), ("", None))
    verdict = "said" if one.verdict == "said" else "not said"
    what = f"{quote(one.point)} of {clean(one.move)} was {verdict}"
    if one.text:
        what += f", by {quote(one.text)}"
    at = None if one.at_ms is None else find.moment(one.at_ms)
    return CorrectionView(number, what, "", at, item, offer_of(one, point, lexicon))


# --- what there is to be corrected ---------------------------------------------------------


def _points(review: Review) -> dict[tuple[str, str], tuple[str, PointFinding]]:
    return {
        (move.move, point.point): (point_item(at, place), point)
        for at, move in enumerate(review.findings.moves)
        for place, point in enumerate(move.points)
    }


def findings_by_key(review: Review) -> dict[str, tuple[str, str]]:
    """Give every finding that can be set aside its words and its item, by its key."""
    found = review.findings
    places: dict[str, _Place] = {
        key_of_point(move, point): (f"{quote(point)} of {clean(move)}", item)
        for (move, point), (item, _) in _points(review).items()
    }
    for one in review.heard.intervals:
        places[key_of(one)] = (f"the length of {clean(one.move)}", interval_item(one.id))
    for call in found.time_calls:
        places[key_of(call)] = (f"time call {quote(call.text)}", call_item(call))
    for promise in found.promises:
        places[key_of(promise)] = (f"promise {quote(promise.text)}", promise_item(promise))
    for flag in found.flags:
        words = f"{name_kind(flag.kind)} at {say_moment(flag.at_ms)}"
        places[key_of(flag)] = (words, flag_item(flag))
    return places
