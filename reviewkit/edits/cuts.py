"""Choose what to take out of intervals that ran long and of rests that were stretched.

Silence goes first, because no word is lost with it, then talk that only repeats. No cut
goes through a word or a count, none takes out what is given nowhere else, and none makes
a time call untrue that is true. An interval whose length is unclear gets no cut, and only
the part of it that is certain (nine times in ten) is cut in.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from reviewkit.edits.quiet import quiet_spans, without_all
from reviewkit.edits.records import Cut, Trim
from reviewkit.edits.repeats import Repeat, find_repeats
from reviewkit.edits.timecode import FrameRate, frame_not_after, frame_not_before, frame_start_ms
from reviewkit.findings.places import done_intervals
from reviewkit.findings.time_calls import WRONG_FROM_MS
from reviewkit.model import Interval, Line, Review, TimeCall
from reviewkit.times import Span
from reviewkit.timing import tolerance_of

# A shorter cut is a jump in the picture for nothing.
LEAST_CUT_MS = 1_000
# Silence that stays before and after words.
PAUSE_MS = 300
# How far from the words a line of talk is cut; lines have a pause of this twice around them.
_BESIDE_TALK_MS = 150
# More than the longest frame: what whole frames leave of a line's pauses.
_FRAME_MS = 45
# Marks of several words that are one thing, pauses and all.
_WHOLE = frozenset({"count", "time_call", "maybe_call"})


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A span that may go: silence in any part, talk only as a whole."""

    span: Span
    repeat: Repeat | None = None


@dataclass(frozen=True, slots=True)
class _Room:
    """Where cuts may lie, and the time calls that they must leave true."""

    within: Span
    surplus_ms: int
    calls: tuple[TimeCall, ...]


def find_trims(review: Review, rate: FrameRate, kept: Sequence[Span] = ()) -> tuple[Trim, ...]:
    """Choose the cuts of a class, interval by interval in order of time.

    Args:
        review: The class, without verdicts on lengths that were set aside.
        rate: Cuts lie on whole frames of this rate.
        kept: Spans that are needed for something else.
    """
    repeats = find_repeats(review)
    blocked = [
        (mark.start_ms, mark.end_ms) for mark in review.heard.marks if mark.kind in _WHOLE
    ] + [(span.start_ms, span.end_ms) for span in kept]
    trims = []
    for interval, is_rest, whole, room in _rooms(review):
        candidates = tuple(_candidates(review, room.within, repeats, blocked))
        cuts = _choose(candidates, room, rate)
        trims.append(
            Trim(
                interval,
                is_rest,
                whole,
                whole.length_ms - room.surplus_ms,
                cuts,
                tuple(call.text for call in room.calls if _is_mended(call, cuts)),
            )
        )
    return tuple(trims)


def left_after(call: TimeCall, cuts: Sequence[Cut]) -> int | None:
    """Give the time that is left at a call when cuts behind it are made."""
    if call.actual_left_ms is None:
        return None
    behind = sum(cut.span.length_ms for cut in cuts if call.at_ms <= cut.span.start_ms)
    return call.actual_left_ms - behind


def is_wrong(claimed_ms: int | None, left_ms: int | None) -> bool:
    """Tell whether a claim of time left is out by so much that it counts as wrong."""
    return (
        claimed_ms is not None
        and left_ms is not None
        and (abs(claimed_ms - left_ms) >= WRONG_FROM_MS)
    )


def _is_mended(call: TimeCall, cuts: Sequence[Cut]) -> bool:
    return call.verdict == "wrong" and not is_wrong(call.claimed_left_ms, left_after(call, cuts))


# --- where to cut -------------------------------------------------------------------------


def _rooms(review: Review) -> Iterator[tuple[Interval, bool, Span, _Room]]:
    """Give everything that was certainly too long: its whole span, and where it may be cut."""
    done = done_intervals(review.heard)
    for interval, after in pairwise((*done, None)):
        if interval is None or interval.start is None or interval.end is None:
            continue
        if interval.timing == "long" and interval.planned_ms is not None:
            whole = Span(interval.start.at_ms, interval.end.at_ms)
            calls = tuple(one for one in review.findings.time_calls if one.interval == interval.id)
            yield from _room(interval, False, whole, interval.planned_ms, calls, after)
        if after is None or after.start is None or interval.planned_rest_ms is None:
            continue
        shortest_ms, planned_ms = (
            after.start.low_ms - interval.end.high_ms,
            interval.planned_rest_ms,
        )
        if shortest_ms > planned_ms + tolerance_of(planned_ms, review.tolerance_ms):
            whole = Span(interval.end.at_ms, after.start.at_ms)
            yield from _room(interval, True, whole, planned_ms, (), after)


def _room(
    interval: Interval,
    is_rest: bool,
    whole: Span,
    planned_ms: int,
    calls: tuple[TimeCall, ...],
    after: Interval | None,
) -> Iterator[tuple[Interval, bool, Span, _Room]]:
    """Keep to the part that is certain; where there is none, nothing is cut."""
    if interval.start is None or interval.end is None:
        return
    first, last = interval.start.high_ms, interval.end.low_ms
    if is_rest and after is not None and after.start is not None:
        first, last = interval.end.high_ms, after.start.low_ms
    first, last = max(first, whole.start_ms), min(last, whole.end_ms)
    surplus_ms = whole.length_ms - planned_ms
    if first < last and surplus_ms > 0:
        yield interval, is_rest, whole, _Room(Span(first, last), surplus_ms, calls)


def _candidates(
    review: Review,
    within: Span,
    repeats: Sequence[Repeat],
    blocked: Sequence[tuple[int, int]],
) -> Iterator[_Candidate]:
    quiet = quiet_spans(review.heard.talk, within, pause_ms=PAUSE_MS)
    for span in without_all(quiet, blocked):
        yield _Candidate(span)
    for repeat in repeats:
        around = _around(review, repeat.line)
        if around and _is_inside(around, within) and without_all((around,), blocked) == (around,):
            yield _Candidate(around, repeat)


def _around(review: Review, line: Line) -> Span | None:
    """Give the span of a line that can be cut out between other words, if it can."""
    talk = review.heard.talk
    if talk.clock == "blocks":
        return None
    first = talk.words[line.first]
    after = talk.words[line.last + 1] if line.last + 1 < len(talk.words) else None
    spoken_ms = max(word.end_ms for word in talk.words[: line.first]) if line.first else 0
    ends_ms = max(word.end_ms for word in talk.words[line.first : line.last + 1])
    lead_ms = max(_BESIDE_TALK_MS, first.spread_ms)
    tail_ms = max(_BESIDE_TALK_MS, after.spread_ms if after else 0)
    if first.start_ms - spoken_ms < 2 * lead_ms or first.start_ms < lead_ms:
        return None
    if after and after.start_ms - ends_ms < 2 * tail_ms:
        return None
    return Span(first.start_ms - lead_ms, ends_ms + tail_ms)


def _is_inside(span: Span, within: Span) -> bool:
    return within.start_ms <= span.start_ms and span.end_ms <= within.end_ms


# --- what to cut --------------------------------------------------------------------------


def _choose(candidates: Sequence[_Candidate], room: _Room, rate: FrameRate) -> tuple[Cut, ...]:
    """Take silences before talk, then what mends a time call, then the longest, until it fits."""
    cuts: list[Cut] = []
    left = list(candidates)
    while left:
        tried = [(one, _cut(one, room, cuts, rate)) for one in left]
        open_ = [(one, cut) for one, cut in tried if cut is not None]
        if not open_:
            break
        best, cut = max(open_, key=lambda pair: _worth(pair[1], room, cuts))
        cuts.append(cut)
        left = [one for one in left if one is not best and not one.span.overlap_ms(cut.span)]
    return _joined(sorted(cuts, key=lambda cut: cut.span), room)


def _joined(cuts: Sequence[Cut], room: _Room) -> tuple[Cut, ...]:
    """Make one cut of talk and the silence right beside it: two jumps would be one too many."""
    joined: list[Cut] = []
    spare_ms = room.surplus_ms - sum(cut.span.length_ms for cut in cuts)
    for place, cut in enumerate(cuts):
        whole = _one_cut(joined[-1], cut) if joined else None
        between_ms = cut.span.start_ms - joined[-1].span.end_ms if joined else 0
        if whole and between_ms <= spare_ms:
            others = (*joined[:-1], whole, *cuts[place + 1 :])
            if not any(_is_spoilt(call, others) for call in room.calls):
                joined[-1], spare_ms = whole, spare_ms - between_ms
                continue
        joined.append(cut)
    return tuple(joined)


def _one_cut(before: Cut, after: Cut) -> Cut | None:
    """Put two cuts together between which there is not so much as a pause."""
    talk = [cut for cut in (before, after) if cut.kind == "repeated talk"]
    if not talk or after.span.start_ms - before.span.end_ms > PAUSE_MS:
        return None
    span = Span(before.span.start_ms, after.span.end_ms)
    return replace(talk[0], span=span, text=" ".join(cut.text for cut in talk))


def _is_spoilt(call: TimeCall, cuts: Sequence[Cut]) -> bool:
    return call.verdict == "right" and is_wrong(call.claimed_left_ms, left_after(call, cuts))


def _worth(cut: Cut, room: _Room, cuts: Sequence[Cut]) -> tuple[bool, int, int, int]:
    mended = sum(_is_mended(call, (*cuts, cut)) - _is_mended(call, cuts) for call in room.calls)
    return cut.kind == "silence", mended, cut.span.length_ms, -cut.span.start_ms


def _cut(candidate: _Candidate, room: _Room, cuts: Sequence[Cut], rate: FrameRate) -> Cut | None:
    """Make the longest cut of a candidate that there is room for, on whole frames."""
    most_ms = min(
        [
            room.surplus_ms - sum(cut.span.length_ms for cut in cuts),
            *(_slack(call, cuts) for call in room.calls if call.at_ms <= candidate.span.start_ms),
        ]
    )
    span = _on_frames(candidate.span, most_ms, rate)
    if span is None or span.length_ms < LEAST_CUT_MS:
        return None
    repeat = candidate.repeat
    if repeat is None:
        return Cut(span, "silence")
    if span.length_ms < candidate.span.length_ms - 2 * _FRAME_MS:
        return None
    return Cut(span, "repeated talk", repeat.line.text, repeat.said_before_ms)


def _on_frames(span: Span, most_ms: int, rate: FrameRate) -> Span | None:
    """Give the middle of a span, as many whole frames as fit into it and into ``most_ms``.

    The middle goes, so that a pause stays on both sides.
    """
    first, end = frame_not_before(span.start_ms, rate), frame_not_after(span.end_ms, rate)
    spare = end - first - frame_not_after(max(0, most_ms), rate)
    if spare > 0:
        first, end = first + spare // 2, end - (spare - spare // 2)
    start_ms, end_ms = frame_start_ms(first, rate), frame_start_ms(end, rate)
    # Starts of frames are rounded to the millisecond, so that two may be one too far apart.
    if end_ms - start_ms > most_ms:
        end_ms = frame_start_ms(end - 1, rate)
    return Span(start_ms, end_ms) if start_ms < end_ms else None


def _slack(call: TimeCall, cuts: Sequence[Cut]) -> int:
    """Give how much may still go behind a call before it turns wrong."""
    left_ms = left_after(call, cuts)
    if call.verdict != "right" or call.claimed_left_ms is None or left_ms is None:
        return left_ms if left_ms is not None else 0
    return left_ms - call.claimed_left_ms + WRONG_FROM_MS - 1
