"""Make the cue sheet of a plan: what to say in each interval, when, and whether it fits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from reviewkit.cautions import LAST_TIME_CAUTION, SHEET_CAUTIONS
from reviewkit.language.movebook import match_move, pattern_of
from reviewkit.model import Lexicon, Plan, PlanRow
from reviewkit.rehearse.last_time import Key, LastMove, LastTime, key_of
from reviewkit.rehearse.pointing import Kin, PlannedPoint, find_kin, order_points
from reviewkit.rehearse.records import Cue, CuePoint, CueSheet, MomentCall, Place, SpeakingRate
from reviewkit.rehearse.speaking import (
    ANNOUNCE_WORDS,
    CALL_WORDS,
    USUAL_RATE,
    spoken_ms,
    talk_time,
    with_room_ms,
    words_ms,
)
from reviewkit.report.timetable import start_times, total_ms

TEN_MS = 10_000
# Calls closer together than this only crowd each other; a longer interval takes one more.
LEAST_APART_MS = 8_000
HALF_FROM_MS = 30_000
TEN_FROM_MS = 20_000
MINUTE_FROM_MS = 180_000
STEADY_BREATH = "keep breathing"
_PHASES = {"up": "come up", "back": "come back"}
NOTHING_LAST = LastMove({}, is_breath_missing=False, are_ways_missing=False)


@dataclass(frozen=True, slots=True)
class _Desk:
    """All that every cue is made with."""

    lexicon: Lexicon
    last: LastTime | None
    rate: SpeakingRate
    kin: dict[str, Kin]
    asked: dict[Key, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class _Slot:
    """One row at its place: ``rest_ms`` is the rest before, ``due`` the points not yet given."""

    number: int
    row: PlanRow
    part: str
    start_ms: int
    rest_ms: int
    due: tuple[str, ...]
    again: tuple[str, ...]
    is_first: bool


def make_sheet(plan: Plan, lexicon: Lexicon, last: LastTime | None = None) -> CueSheet:
    """Make the cue sheet of a plan, with what a review of the class found where there is one.

    The points of a move are due in its first interval, as a review counts them; in later
    intervals they are named once more in short.
    """
    asked: dict[Key, tuple[str, ...]] = {}
    for row in plan.rows:
        key = key_of(row.move)
        asked[key] = tuple(dict.fromkeys((*asked.get(key, ()), *row.must_say)))
    rate = (last.rate if last else None) or USUAL_RATE
    desk = _Desk(lexicon, last, rate, find_kin(plan, lexicon), asked)
    return CueSheet(
        plan.title or plan.source,
        total_ms(plan),
        tuple(_cue(slot, desk) for slot in _slots(plan)),
        rate,
        (*SHEET_CAUTIONS, LAST_TIME_CAUTION) if last else SHEET_CAUTIONS,
        last.source if last else "",
    )


def _slots(plan: Plan) -> Iterator[_Slot]:
    repeating = {row.block for row in plan.rows if row.round > 1}
    given: dict[Key, tuple[str, ...]] = {}
    rests = (0, *(row.rest_ms or 0 for row in plan.rows))
    for number, (start_ms, row) in enumerate(start_times(plan), 1):
        key = key_of(row.move)
        before = given.get(key, ())
        points = tuple(dict.fromkeys(row.must_say))
        part = f"{row.block}, round {row.round}" if row.block in repeating else row.block
        yield _Slot(
            number,
            row,
            part,
            start_ms,
            rests[number - 1],
            tuple(one for one in points if one not in before),
            tuple(one for one in points if one in before),
            key not in given,
        )
        given[key] = tuple(dict.fromkeys((*before, *points)))


def _cue(slot: _Slot, desk: _Desk) -> Cue:
    row, key = slot.row, key_of(slot.row.move)
    last = desk.last.moves.get(key, NOTHING_LAST) if desk.last else NOTHING_LAST
    ordered = order_points(
        slot.due, row.move, asked=desk.asked[key], kin=desk.kin, lexicon=desk.lexicon
    )
    points = tuple(one for one in ordered if slot.is_first or not one.is_suggested)
    calls = time_calls(slot.start_ms, row)
    breath = breath_line(row.move, desk.lexicon)
    spoken = _announced(row) + CALL_WORDS * len(calls) + len(breath.split())
    time = talk_time(
        [one.text for one in points if not one.is_suggested],
        [one.text for one in points if one.is_suggested],
        other_words=spoken,
        free_ms=slot.rest_ms + row.work_ms,
        rate=desk.rate,
    )
    easier, harder = _ways(row, desk.lexicon)
    return Cue(
        slot.number,
        row,
        slot.part,
        slot.start_ms,
        slot.start_ms + row.work_ms,
        tuple(_placed(points, slot, desk.rate, last)),
        slot.again,
        breath,
        easier,
        harder,
        calls,
        time,
        slot.is_first,
        is_breath_missing=row.kind == "work" and last.is_breath_missing,
        are_ways_missing=row.kind == "work" and last.are_ways_missing,
        calls_last=desk.last.calls.get((key, row.round), ()) if desk.last else (),
    )


def _placed(
    points: Sequence[PlannedPoint], slot: _Slot, rate: SpeakingRate, last: LastMove
) -> Iterator[CuePoint]:
    """Lay points one after the other from the start of the rest before, and see where they fall."""
    at_ms = slot.start_ms - slot.rest_ms + with_room_ms(words_ms(_announced(slot.row), rate))
    for point in points:
        at_ms += with_room_ms(spoken_ms(point.text, rate))
        place: Place = "later"
        if at_ms <= slot.start_ms:
            place = "before"
        elif at_ms <= slot.start_ms + slot.row.work_ms // 3:
            place = "first third"
        verdict = last.points.get(key_of(point.text), "")
        yield CuePoint(point.text, point.kind, point.is_suggested, place, at_ms, verdict)


def _announced(row: PlanRow) -> int:
    """Count the words that say what comes next."""
    return ANNOUNCE_WORDS + len(row.move.split())


def time_calls(start_ms: int, row: PlanRow) -> tuple[MomentCall, ...]:
    """Give the time calls worth making in an interval, in order, on the clock of the class."""
    end_ms, half_ms = start_ms + row.work_ms, start_ms + row.work_ms // 2
    calls = []
    if row.side == "each":
        calls.append(MomentCall(half_ms, "change sides", "change"))
    elif row.work_ms >= HALF_FROM_MS:
        calls.append(MomentCall(half_ms, "halfway", "half"))
    if row.work_ms >= MINUTE_FROM_MS:
        calls.append(MomentCall(end_ms - 60_000, "one minute left", "1 min left"))
    if row.work_ms >= TEN_FROM_MS:
        calls.append(MomentCall(end_ms - TEN_MS, "ten seconds left", "10 s left"))
    apart = [now for before, now in pairwise(calls) if now.at_ms - before.at_ms >= LEAST_APART_MS]
    return (*calls[:1], *apart)


def breath_line(move: str, lexicon: Lexicon) -> str:
    """Say when the breath goes out; steady breath where the lexicon knows no such phase."""
    known = match_move(move, lexicon)
    if known is None or not known.effort:
        return STEADY_BREATH
    return f"breathe out as you {_PHASES.get(known.effort, known.effort)}"


def _ways(row: PlanRow, lexicon: Lexicon) -> tuple[str, str]:
    """Give an easier and a harder way by the move's pattern; empty where it has none.

    Nobody needs a harder way to warm up or to cool down.
    """
    pattern = pattern_of(row.move, lexicon)
    found = next((one for one in lexicon.patterns if one.id == pattern), None)
    if found is None:
        return "", ""
    return found.easier, found.harder if row.kind == "work" else ""
