"""Hold every time call against the end of its interval."""

from __future__ import annotations

from math import hypot, inf

from reviewkit.findings.coarse_calls import (
    is_taken_back,
    likely_off_ms,
    two_views,
    unsure_ms,
    wrong_from_ms,
)  # fmt: skip
from reviewkit.findings.places import end_spread_ms
from reviewkit.model import CallVerdict, Edge, HeardClass, Interval, Mark, TimeCall

# A call this far out misleads whoever paces themselves by it.
WRONG_FROM_MS = 5000
# The end it claims lies this far beyond all ends that are likely: what lies within them may be so.
BEYOND_MS = 3000
# A call may fall just outside its interval, because edges and words are not exact.
SLACK_MS = 800

# What may be a call is one when it is no further out than its weight's part of this, or than
# its time and the end of its interval are exact; of the end half counts, as more lets in as
# much other talk as calls. Words of less weight than that are forgiven nothing, and where one
# stamp covers many words less than half, as no pause tells there what was said alone.
FITS_MS = 5000
_FORGIVEN_FROM = 0.5
_END_COUNTS = 0.5
_FAINT_FORGIVEN = {"words": 0.0, "captions": 0.0, "blocks": 0.4}
# Two words this near with the same claim are one call, give or take what a guess leaves open.
SAME_WITHIN_MS = 4000
SAME_CLAIM_MS = 1500

# What a call may claim; marks of whole lines say only that one was made.
READABLE = ("left", "gone", "halfway", "share", "class", "reps")
# A claim longer than the interval itself is about something else, such as the class.
MOST_CLAIMED = 2.1


def _interval_of(mark: Mark, intervals: tuple[Interval, ...]) -> Interval | None:
    """Find the interval during which the call begins, with a little slack at its edges."""
    nearest: tuple[int, Interval] | None = None
    for interval in intervals:
        if interval.start is None or interval.end is None:
            continue
        outside_ms = max(
            interval.start.at_ms - mark.start_ms, mark.start_ms - interval.end.at_ms, 0
        )
        if outside_ms <= SLACK_MS and (nearest is None or outside_ms < nearest[0]):
            nearest = outside_ms, interval
    return None if nearest is None else nearest[1]


def _interval_before(mark: Mark, heard: HeardClass) -> Interval | None:
    """Find the interval that a plain call comes after but may be of.

    Its end may lie as late as the call says, as exactly as the two are known.
    """
    if mark.kind != "time_call":
        return None
    until_ms = mark.end_ms - heard.talk.words[mark.last].spread_ms
    for interval in heard.intervals:
        claimed_ms = _claimed_left_ms(mark, interval)
        if interval.end is None or claimed_ms is None:
            continue
        if interval.end.at_ms < mark.start_ms and until_ms + claimed_ms <= interval.end.high_ms:
            return interval
    return None


def _claimed_left_ms(mark: Mark, interval: Interval) -> int | None:
    """Give the time left that the words claim, None when they claim no time."""
    planned_ms = interval.planned_ms or interval.length_ms
    if planned_ms is None:
        return None
    if mark.ref == "left" and mark.value is not None:
        claimed_ms = round(1000 * mark.value)
        return claimed_ms if claimed_ms <= MOST_CLAIMED * planned_ms else None
    if mark.ref == "halfway":
        return planned_ms // 2
    if mark.ref == "share" and mark.value is not None:
        return round(mark.value * planned_ms)
    if mark.ref == "gone" and mark.value is not None and 1000 * mark.value < planned_ms:
        return planned_ms - round(1000 * mark.value)
    return None


def _judge(difference_ms: int, unsure_ms: int) -> CallVerdict:
    """Judge a difference whose true value lies within ``unsure_ms`` nine times in ten."""
    size_ms = abs(difference_ms)
    if unsure_ms < WRONG_FROM_MS / 2:
        return "wrong" if size_ms >= WRONG_FROM_MS else "right"
    if size_ms - unsure_ms / 2 >= WRONG_FROM_MS:
        return "wrong"
    return "right" if size_ms + unsure_ms / 2 < WRONG_FROM_MS else "unclear"


def _beyond_ms(at_ms: int, edge: Edge) -> int:
    """Give how far a moment lies outside the range that holds an edge nine times in ten."""
    return max(edge.low_ms - at_ms, at_ms - edge.high_ms, 0)


def _judge_coarsely(
    mark: Mark, interval: Interval, claimed_ms: int, heard: HeardClass, verdict: CallVerdict
) -> CallVerdict:
    """Judge a call of which its words tell more than the clock, which said ``verdict``.

    The less exact its moment and the end of its interval are, the more is asked of it, and
    the less where the coach owns up to it. What only may be a call is never wrong.
    """
    words = heard.talk.words
    off_ms = likely_off_ms(*two_views(mark, interval, claimed_ms, words))
    limit_ms = wrong_from_ms(
        unsure_ms(mark, interval, words), is_owned_up=is_taken_back(mark, words, heard.lexicon)
    )
    if mark.kind == "time_call" and abs(off_ms) >= limit_ms:
        return "wrong"
    return "unclear" if verdict == "wrong" else verdict


def _time_call(mark: Mark, heard: HeardClass) -> TimeCall | None:
    inside = _interval_of(mark, heard.intervals)
    interval = inside or _interval_before(mark, heard)
    if interval is None or interval.end is None:
        return None
    claimed_ms = None if mark.ref in ("class", "reps") else _claimed_left_ms(mark, interval)
    actual_ms = max(0, interval.end.at_ms - mark.end_ms)
    verdict: CallVerdict = "unclear"
    if claimed_ms is not None and inside:
        words = heard.talk.words
        either_ms = max(end_spread_ms(interval), words[mark.last].spread_ms)
        verdict = _judge(claimed_ms - actual_ms, round(either_ms))
        if heard.talk.clock == "blocks":
            verdict = _judge_coarsely(mark, interval, claimed_ms, heard, verdict)
        elif verdict == "wrong" and _beyond_ms(mark.end_ms + claimed_ms, interval.end) < BEYOND_MS:
            verdict = "unclear"
    return TimeCall(
        at_ms=mark.end_ms,
        text=mark.text,
        interval=interval.id,
        claimed_left_ms=claimed_ms,
        actual_left_ms=actual_ms,
        verdict=verdict,
    )


def judge_time_calls(heard: HeardClass) -> tuple[TimeCall, ...]:
    """Judge the time calls made during intervals, in time order.

    A call is wrong when claim and truth differ by five seconds or more, and unclear when
    the clock of the transcript or the edge of the interval cannot tell; where one stamp
    covers many words, the words after it tell as well (``coarse_calls``). Calls about
    repetitions or the whole workout claim no seconds and are unclear. Calls outside
    intervals are about the rest or the next start and are left out, but for those after
    an end that may lie as late as they say: these are unclear. Words that only may be a
    call count as one when they come true.
    """
    kept: dict[Mark, TimeCall] = {}
    for mark in heard.marks:
        if mark.kind == "time_call" and mark.ref in READABLE:
            call = _time_call(mark, heard)
            if call is not None:
                kept[mark] = call
    for mark in heard.marks:
        call = _time_call(mark, heard) if mark.kind == "maybe_call" else None
        if call is None:
            continue
        if _is_off_ms(call) <= _may_be_off_ms(mark, heard):
            kept = _with_maybe(kept, mark, call)
    return tuple(sorted(kept.values(), key=lambda c: c.at_ms))


def _may_be_off_ms(mark: Mark, heard: HeardClass) -> float:
    """Give how far out words may be that are taken for a call."""
    interval = _interval_of(mark, heard.intervals)
    if interval is None:
        return FITS_MS * mark.weight
    forgiven = 1.0 if mark.weight >= _FORGIVEN_FROM else _FAINT_FORGIVEN[heard.talk.clock]
    spread_ms = heard.talk.words[mark.last].spread_ms
    unsure_ms = hypot(spread_ms, _END_COUNTS * end_spread_ms(interval))
    return max(FITS_MS * mark.weight, forgiven * unsure_ms)


def _is_off_ms(call: TimeCall) -> float:
    if call.claimed_left_ms is None or call.actual_left_ms is None:
        return inf
    return abs(call.claimed_left_ms - call.actual_left_ms)


def _with_maybe(kept: dict[Mark, TimeCall], mark: Mark, call: TimeCall) -> dict[Mark, TimeCall]:
    """Add what may be a call, unless a plain call is heard in its words or says the same."""
    others = {
        one: was
        for one, was in kept.items()
        if (one.first <= mark.last and mark.first <= one.last) or _says_same(was, call)
    }
    is_other_reading = mark.ref == "gone" and all(was.verdict == "wrong" for was in others.values())
    if any(was.claimed_left_ms is not None for was in others.values()) and not is_other_reading:
        return kept
    return {one: was for one, was in kept.items() if one not in others} | {mark: call}


def _says_same(one: TimeCall, other: TimeCall) -> bool:
    """Tell whether two calls are one: "five or six more seconds" is one as well."""
    if abs(one.at_ms - other.at_ms) > SAME_WITHIN_MS:
        return False
    if one.claimed_left_ms is None or other.claimed_left_ms is None:
        return one.claimed_left_ms == other.claimed_left_ms
    return abs(one.claimed_left_ms - other.claimed_left_ms) <= SAME_CLAIM_MS
