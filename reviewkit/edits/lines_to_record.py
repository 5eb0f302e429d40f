"""What to record for points that were missing or late, and where it fits into the talk."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from reviewkit.corrections import standing_points
from reviewkit.edits.own_words import OwnWordsByPoint
from reviewkit.edits.quiet import quiet_spans, without_all
from reviewkit.edits.records import LineSource, LineToRecord
from reviewkit.findings.places import done_intervals
from reviewkit.model import Interval, MoveFinding, PointFinding, Review
from reviewkit.rehearse.last_time import key_of
from reviewkit.rehearse.records import SpeakingRate
from reviewkit.rehearse.speaking import USUAL_RATE, own_rate, spoken_ms
from reviewkit.times import Span

# A recorded line keeps this far away from other talk.
PAUSE_MS = 300
# A point helps in this part of the move's first interval.
EARLY_SHARE = 0.5


def speaking_rate(review: Review) -> SpeakingRate:
    """Give the coach's own pace in this class, a usual one where it cannot be measured."""
    profile = dict(review.findings.profile)
    return own_rate(profile.get("words_per_min"), profile.get("talk_share")) or USUAL_RATE


def find_lines(
    review: Review, rate: SpeakingRate, own: OwnWordsByPoint
) -> tuple[LineToRecord, ...]:
    """Find the lines to record, in order of the moves' first intervals, safety first.

    What the plan asks for counts; where it asks for nothing at all, safety points of the
    lexicon do. A line takes the earliest quiet place that holds it, and no two the same.

    Args:
        review: The class.
        rate: How fast the coach speaks.
        own: Words of the coach's own from other classes, by move and point.
    """
    found = list(_wanted(review, rate, own))
    found.sort(key=lambda one: (one.early, one.kind != "safety"))
    placed: list[LineToRecord] = []
    for early, lines in groupby(found, key=lambda one: one.early):
        placed += _place(review, early, list(lines))
    return tuple(placed)


def _wanted(review: Review, rate: SpeakingRate, own: OwnWordsByPoint) -> Iterator[LineToRecord]:
    first: dict[str, Interval] = {}
    for one in done_intervals(review.heard):
        first.setdefault(one.move_done, one)
    for move, point in _open_points(standing_points(review.findings.moves)):
        interval = first.get(move)
        if interval is None or (early := _early(interval)) is None:
            continue
        text, source, source_name = _wording(move, point, own)
        yield LineToRecord(
            interval=interval,
            move=move,
            point=point.point,
            kind=point.kind,
            is_late=point.verdict == "late",
            is_suggested=point.asked_by == "lexicon",
            text=text,
            source=source,
            source_name=source_name,
            takes_ms=spoken_ms(text, rate),
            early=early,
            slot=None,
        )


def _open_points(moves: Sequence[MoveFinding]) -> Iterator[tuple[str, PointFinding]]:
    pairs = [(move.move, point) for move in moves for point in move.points]
    asked = [(move, point) for move, point in pairs if point.asked_by == "plan"]
    counted = asked or [(move, point) for move, point in pairs if point.kind == "safety"]
    return (pair for pair in counted if pair[1].verdict != "said")


def _early(interval: Interval) -> Span | None:
    """Give the part of an interval in which a point still helps."""
    if interval.start is None or interval.end is None:
        return None
    end_ms = interval.start.at_ms + round(EARLY_SHARE * (interval.length_ms or 0))
    start_ms = max(0, interval.start.at_ms)
    return Span(start_ms, end_ms) if start_ms < end_ms else None


def _wording(move: str, point: PointFinding, own: OwnWordsByPoint) -> tuple[str, LineSource, str]:
    """Take the coach's own words of another class, else the lexicon's, else the plan's."""
    known = own.get((key_of(move), key_of(point.point)))
    if known:
        return _sentence(known.text), "another class", known.title
    plain = _sentence(point.point)
    line = _sentence(point.line) if point.line else plain
    return line, "plan" if line == plain else "lexicon", ""


def _sentence(text: str) -> str:
    words = text.strip()
    return f"{words[:1].upper()}{words[1:]}{'' if words.endswith(('.', '!', '?')) else '.'}"


def _place(review: Review, early: Span, lines: Sequence[LineToRecord]) -> Iterator[LineToRecord]:
    quiet = quiet_spans(review.heard.talk, early, pause_ms=PAUSE_MS)
    for line in lines:
        room = next((one for one in quiet if line.takes_ms <= one.length_ms), None)
        slot = room and Span(room.start_ms, room.start_ms + line.takes_ms)
        if slot:
            quiet = without_all(quiet, [(slot.start_ms, slot.end_ms + PAUSE_MS)])
        yield replace(line, slot=slot)
