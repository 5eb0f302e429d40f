"""Sum up a class in four scores of 0 to 100, each made of named parts.

A part is the share of its cases that were right, times 100, or ``None`` when there was no
case. A score is the weighted mean of the parts that exist; without any it is ``None``.
A class without a word gets ``None`` everywhere: nothing was heard, so nothing is judged.

``timing``
    ``lengths`` (weight 50): planned intervals that were done, 1 for on time, 1/2 for a
    drift of at most twice the tolerance, 0 beyond; those the clock cannot judge are left
    out. ``plan`` (20): planned intervals done, a swapped one counts half. ``time calls``
    (15): right ones among the right and wrong. ``promises`` (15): kept ones among the
    kept and broken.
``cues``
    ``safety`` (40) and ``form`` (30): points given in time, 1/2 for late ones; the plan's
    points, or the lexicon's where the plan asks for none. ``careful talk`` (15): 1 less
    1/3 for each risky line. ``no contradictions`` (15): 1 less 1/4 for each.
``density``
    ``cued`` (50): work intervals with a cue for every 30 s, in proportion below.
    ``no dead air`` (30): work time outside silences of 20 s or more; left out where the
    transcript's clock cannot place silences. ``room to listen`` (20): work intervals with
    at most 180 words a minute, falling to 0 at 240.
``breathing``
    ``prompted`` (75): work moves with a breathing prompt. ``never held`` (25): 1 less
    1/2 for each time viewers are told to hold their breath under effort.
"""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.findings.risk import ADVICE
from reviewkit.model import (
    Flag,
    HeardClass,
    Interval,
    IntervalTalk,
    MoveFinding,
    PointFinding,
    PointKind,
    Promise,
    Score,
    TimeCall,
)
from reviewkit.times import MINUTE_MS

_Part = tuple[str, int, float | None]
_TOLERANCE_MS = 3_000
_TOLERANCE_SHARE = 0.08
_CUE_EVERY_MS = 30_000
_SILENCE_MS = 20_000
_FULL_WORDS_PER_MIN, _CROWDED_WORDS_PER_MIN = 180.0, 240.0
_POINT_CREDIT = {"said": 1.0, "late": 0.5, "missing": 0.0}
_NAMES = ("timing", "cues", "density", "breathing")


def _mean(shares: Sequence[float]) -> float | None:
    """Give the mean of some shares of 0 to 1, ``None`` without any."""
    return sum(shares) / len(shares) if shares else None


def _less(count: int, step: float) -> float:
    """Give 1 less a step for each case, never below 0."""
    return max(0.0, 1.0 - step * count)


def _score(parts: Sequence[_Part]) -> Score:
    """Weigh the parts that exist into one score."""
    known = [(weight, share) for _, weight, share in parts if share is not None]
    total = sum(weight for weight, _ in known)
    value = round(100 * sum(w * s for w, s in known) / total, 1) if total else None
    shown = tuple((name, None if s is None else round(100 * s, 1)) for name, _, s in parts)
    return Score(value, shown)


def _length_credit(interval: Interval) -> float | None:
    """Give the credit for an interval's length, ``None`` when it cannot be judged."""
    if interval.timing in (None, "unclear") or interval.planned_ms is None:
        return None
    if interval.timing == "on time":
        return 1.0
    tolerance_ms = max(_TOLERANCE_MS, _TOLERANCE_SHARE * interval.planned_ms)
    drift_ms = abs((interval.length_ms or 0) - interval.planned_ms)
    return 0.5 if drift_ms <= 2 * tolerance_ms else 0.0


def _timing(
    intervals: Sequence[Interval], time_calls: Sequence[TimeCall], promises: Sequence[Promise]
) -> Score:
    planned = [one for one in intervals if one.plan_row is not None]
    lengths = [credit for one in planned if (credit := _length_credit(one)) is not None]
    done = [{"done": 1.0, "swapped": 0.5}.get(one.status, 0.0) for one in planned]
    calls = [float(one.verdict == "right") for one in time_calls if one.verdict != "unclear"]
    kept = [float(one.verdict == "kept") for one in promises if one.verdict != "unclear"]
    return _score(
        (
            ("lengths", 50, _mean(lengths)),
            ("plan", 20, _mean(done)),
            ("time calls", 15, _mean(calls)),
            ("promises", 15, _mean(kept)),
        )
    )


def _asked(moves: Sequence[MoveFinding]) -> list[PointFinding]:
    """Give the points that count: the plan's, or the lexicon's when the plan has none."""
    points = [point for move in moves for point in move.points]
    planned = [point for point in points if point.asked_by == "plan"]
    return planned or points


def _cues(moves: Sequence[MoveFinding], flags: Sequence[Flag]) -> Score:
    points = _asked(moves)

    def share(kind: PointKind) -> float | None:
        return _mean([_POINT_CREDIT[one.verdict] for one in points if one.kind == kind])

    risky = sum(flag.kind == "risky_talk" for flag in flags)
    contradictions = sum(flag.kind == "contradiction" for flag in flags)
    return _score(
        (
            ("safety", 40, share("safety")),
            ("form", 30, share("form")),
            ("careful talk", 15, _less(risky, 1 / 3)),
            ("no contradictions", 15, _less(contradictions, 1 / 4)),
        )
    )


def _room_credit(interval: Interval, talk: IntervalTalk) -> float | None:
    """Give 1 for talk that leaves room to listen, 0 for talk without a gap."""
    if not interval.length_ms:
        return None
    pace_words_per_min = talk.words * MINUTE_MS / interval.length_ms
    crowded = (_CROWDED_WORDS_PER_MIN - pace_words_per_min) / (
        _CROWDED_WORDS_PER_MIN - _FULL_WORDS_PER_MIN
    )
    return min(1.0, max(0.0, crowded))


def _density(heard: HeardClass, talk: Sequence[IntervalTalk | None]) -> Score:
    work = [
        (interval, spoken)
        for interval, spoken in zip(heard.intervals, talk, strict=True)
        if interval.kind == "work" and spoken is not None and interval.length_ms
    ]
    cued = [min(1.0, t.cues * _CUE_EVERY_MS / (i.length_ms or 1)) for i, t in work]
    room = [credit for i, t in work if (credit := _room_credit(i, t)) is not None]
    silent_ms = sum(t.longest_silence_ms for _, t in work if t.longest_silence_ms >= _SILENCE_MS)
    work_ms = sum(i.length_ms or 0 for i, _ in work)
    can_tell = work_ms > 0 and heard.talk.clock != "blocks"
    return _score(
        (
            ("cued", 50, _mean(cued)),
            ("no dead air", 30, max(0.0, 1 - silent_ms / work_ms) if can_tell else None),
            ("room to listen", 20, _mean(room)),
        )
    )


def _breathing(heard: HeardClass, moves: Sequence[MoveFinding], flags: Sequence[Flag]) -> Score:
    work = {row.move for row in heard.plan.rows if row.kind == "work"}
    prompted = [
        float(one.breathing.verdict == "said")
        for one in moves
        if one.move in work and one.breathing.verdict != "not done"
    ]
    held = sum(flag.kind == "risky_talk" and flag.why == ADVICE["breath"][0] for flag in flags)
    return _score(
        (
            ("prompted", 75, _mean(prompted)),
            ("never held", 25, _less(held, 1 / 2) if prompted else None),
        )
    )


def score_class(
    heard: HeardClass,
    talk: Sequence[IntervalTalk | None],
    moves: Sequence[MoveFinding],
    time_calls: Sequence[TimeCall],
    promises: Sequence[Promise],
    flags: Sequence[Flag],
) -> tuple[tuple[str, Score], ...]:
    """Score a class; ``talk`` has one entry per interval, in the same order.

    Returns:
        ``timing``, ``cues``, ``density`` and ``breathing`` in this order, 0 to 100 or
        ``None`` when there was nothing to judge.
    """
    if not any(not word.is_sound for word in heard.talk.words):
        return tuple((name, Score(None, ())) for name in _NAMES)
    return (
        ("timing", _timing(heard.intervals, time_calls, promises)),
        ("cues", _cues(moves, flags)),
        ("density", _density(heard, talk)),
        ("breathing", _breathing(heard, moves, flags)),
    )
