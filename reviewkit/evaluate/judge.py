"""Set a review document beside the truth of its class."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, TypeVar

from reviewkit.evaluate.outcome import EdgeOutcome, Match, Outcome, PointOutcome, RowOutcome
from reviewkit.evaluate.truth import Anomaly, LabelledClass, SaidLine, TrueInterval
from reviewkit.language.matching import stem
from reviewkit.language.wordsets import word_set
from reviewkit.model import PlanRow

Document = Mapping[str, Any]
T = TypeVar("T")

FLAG_KINDS = (
    "contradiction", "risky_talk", "no_cool_down", "no_warm_up", "side_imbalance", "dead_air",
    "order",
)  # fmt: skip
CALL_SLACK_S = 4.0
WRONG_CALL_S = 5.0
RIGHT_CALL_S = 2.5
# A point counts for an interval from its set-up on.
SET_UP_S = 45.0
SLIGHT_BREACH = 0.1
# What truth tells apart and a review does not: rests between what, moves a round or a block.
_PROMISE_NAMES = {
    "rest_between_sides": "rest",
    "rest_between_blocks": "rest",
    "rest_between_rounds": "rest",
    "between_blocks": "rest",
    "both_sides": "sides",
    "crunches": "sit_ups",
    "impact": "jumping",
    "jumps": "jumping",
    "floor_work": "floor",
    "lying_down": "floor",
    "savasana": "cool_down",
    "stations": "moves",
    "intervals": "moves",
    "intervals_per_block": "moves",
}

# What a promise can be about besides a move ruled out, which goes by its own word.
_PROMISE_KINDS = word_set(
    "minutes rounds moves work rest equipment warm_up cool_down sides jumping floor"
)


def judge(truth: LabelledClass, review: Document, *, call_slack_s: float = CALL_SLACK_S) -> Outcome:
    """Set a review document beside the truth of its class.

    Args:
        truth: The labelled class.
        review: A review document of that class, reviewed with its plan.
        call_slack_s: How far a time call may be from its true place and still be it.
    """
    calls, wrong_calls = _judge_calls(truth, review["time_calls"], call_slack_s)
    return Outcome(
        rows=_judge_rows(truth, review["intervals"]),
        points=_judge_points(truth, review["moves"]),
        added=_judge_added(truth, review["intervals"]),
        silent_moves=_judge_silent_moves(truth, review["moves"]),
        calls=calls,
        wrong_calls=wrong_calls,
        promises=_judge_promises(truth, review["promises"]),
        flags=_judge_flags(truth, review["flags"]),
    )


def _judge_rows(truth: LabelledClass, found: Sequence[Document]) -> tuple[RowOutcome, ...]:
    true_by_row = {one.plan_row: one for one in truth.intervals if one.plan_row}
    found_by_row = {one["plan_row"]: one for one in found if one["plan_row"]}
    return tuple(
        _judge_row(number, row, true_by_row.get(number), found_by_row.get(number))
        for number, row in enumerate(truth.plan.rows, 1)
    )


def _judge_row(
    number: int, row: PlanRow, true: TrueInterval | None, found: Document | None
) -> RowOutcome:
    outcome = RowOutcome(
        place=f"row {number} {row.move} r{row.round} {row.side}".rstrip(),
        status=true.status if true else "skipped",
        found_status=found["status"] if found else "absent",
        planned_s=row.work_ms / 1000,
    )
    if true is None or not found or found["status"] == "skipped" or found["start_s"] is None:
        return outcome
    edges = (
        _edge(true.start_ms, found["start_s"], found.get("start_range_s")),
        _edge(true.end_ms, found["end_s"], found.get("end_range_s")),
    )
    return RowOutcome(
        outcome.place, outcome.status, outcome.found_status, outcome.planned_s, edges,
        found["timing"],
    )  # fmt: skip


def _edge(true_ms: int, found_s: float, found_range: Sequence[float] | None) -> EdgeOutcome:
    low_s, high_s = found_range or (None, None)
    return EdgeOutcome(true_ms / 1000, found_s, low_s, high_s)


def _judge_points(truth: LabelledClass, moves: Sequence[Document]) -> tuple[PointOutcome, ...]:
    found = {
        (_same(move["move"]), _same(point["point"])): point["verdict"]
        for move in moves
        for point in move["points"]
        if point["asked_by"] == "plan"
    }
    asked = dict.fromkeys(
        (_same(row.move), _same(point)) for row in truth.plan.rows for point in row.must_say
    )
    return tuple(
        PointOutcome(move, point, _true_verdict(truth, move, point), found.get((move, point)))
        for move, point in asked
    )


def _true_verdict(truth: LabelledClass, move: str, point: str) -> str:
    """Tell whether a point was given while its move was set up or done, and in time."""
    own = [one for one in truth.intervals if _same(one.asked_move) == move]
    times_ms = [
        line.start_ms
        for line in truth.said
        if point in map(_same, line.points)
        and any(one.start_ms - 1000 * SET_UP_S <= line.start_ms <= one.end_ms for one in own)
    ]
    if not times_ms:
        return "missing"
    return "late" if min(one.end_ms for one in own) <= min(times_ms) else "said"


def _judge_added(truth: LabelledClass, found: Sequence[Document]) -> tuple[Match, ...]:
    def is_half_covered(true: TrueInterval, one: Document) -> bool:
        shared_s = min(one["end_s"], true.end_ms / 1000) - max(one["start_s"], true.start_ms / 1000)
        return bool(shared_s > 0.5 * (true.end_ms - true.start_ms) / 1000)

    return _pair_up(
        [one for one in truth.intervals if one.status == "added"],
        [one for one in found if one["status"] == "added" and one["start_s"] is not None],
        is_half_covered,
        name=lambda true: ("added", f"{true.move} at {true.start_ms / 1000:.0f} s"),
        extra_name=lambda one: ("added", f"{one['move']} at {one['start_s']:.0f} s"),
    )


def _judge_silent_moves(truth: LabelledClass, moves: Sequence[Document]) -> tuple[Match, ...]:
    """Compare work moves that never got a breathing prompt while they were done."""
    breathed = {
        _same(inside.asked_move)
        for line in truth.said
        if "breathing" in line.labels and (inside := interval_at(truth, line.start_ms))
    }
    done = {_same(one.asked_move) for one in truth.intervals}
    found = {_same(move["move"]) for move in moves if move["breathing"]["verdict"] == "missing"}
    work = dict.fromkeys(_same(row.move) for row in truth.plan.rows if row.kind == "work")
    return tuple(
        Match("no breathing", move, move in done - breathed, move in found) for move in work
    )


def interval_at(truth: LabelledClass, at_ms: int) -> TrueInterval | None:
    """Give the true interval that holds a moment."""
    return next((one for one in truth.intervals if one.start_ms - 10 <= at_ms < one.end_ms), None)


def claimed_left_s(line: SaidLine, interval: TrueInterval) -> float:
    """Turn what a line claims is left of an interval into seconds; it must claim something."""
    if line.claimed_left is None:
        raise ValueError(f"{line.text!r} claims nothing")
    length_ms = interval.planned_ms or interval.end_ms - interval.start_ms
    return line.claimed_left * (length_ms / 1000 if line.claimed_left < 1 else 1)


def _judge_calls(
    truth: LabelledClass, found: Sequence[Document], slack_s: float
) -> tuple[tuple[Match, ...], tuple[Match, ...]]:
    """Pair true and found calls by place and claim, then compare verdicts of the pairs."""
    left = [one for one in found if one["claimed_left_s"] is not None]
    calls, wrong_calls = [], []
    for line in truth.said:
        interval = interval_at(truth, line.start_ms)
        if line.claimed_left is None or interval is None:
            continue
        claim_s = claimed_left_s(line, interval)
        name = f"at {line.start_ms / 1000:.0f} s, {claim_s:.0f} s left"
        hit = next((one for one in left if _is_call(line, claim_s, one, slack_s)), None)
        calls.append(Match("time call", name, True, hit is not None))
        if hit is None:
            continue
        left.remove(hit)
        off_s = abs((interval.end_ms - line.end_ms) / 1000 - claim_s)
        is_wrong = off_s >= WRONG_CALL_S
        if is_wrong or off_s <= RIGHT_CALL_S:
            wrong_calls.append(Match("wrong call", name, is_wrong, hit["verdict"] == "wrong"))
    extra = [Match("time call", f"at {one['at_s']:.0f} s", False, True) for one in left]
    return (*calls, *extra), tuple(wrong_calls)


def _is_call(line: SaidLine, claim_s: float, found: Document, slack_s: float) -> bool:
    is_near = line.start_ms / 1000 - slack_s <= found["at_s"] <= line.end_ms / 1000 + slack_s
    return is_near and bool(abs(found["claimed_left_s"] - claim_s) <= max(2.5, 0.12 * claim_s))


def _judge_promises(truth: LabelledClass, found: Sequence[Document]) -> tuple[Match, ...]:
    """Compare broken promises by what they are about; a slight breach may be judged either way."""
    broken: set[str] = set()
    slight: set[str] = set()
    for anomaly in truth.anomalies:
        if anomaly.kind == "broken_promise":
            what = promise_name(anomaly.details["what"])
            (slight if _is_slight(anomaly) else broken).add(what)
    claimed = {promise_name(one["what"]) for one in found if one["verdict"] == "broken"}
    claimed -= slight - broken
    return tuple(
        Match("broken promise", what, what in broken, what in claimed)
        for what in sorted(broken | claimed)
    )


def promise_name(what: str) -> str:
    """Give what a promise is about by one name: "no turns" and "turning" are one."""
    name = what.replace(" ", "_").replace("-", "_").removeprefix("no_")
    name = _PROMISE_NAMES.get(name, name)
    return name if name in _PROMISE_KINDS else stem(name)


def _is_slight(anomaly: Anomaly) -> bool:
    promised, actual = anomaly.details.get("promised"), anomaly.details.get("actual")
    if not isinstance(promised, int | float) or not isinstance(actual, int | float):
        return False
    return promised != 0 and abs(actual - promised) / abs(promised) < SLIGHT_BREACH


def _judge_flags(truth: LabelledClass, found: Sequence[Document]) -> tuple[Match, ...]:
    def is_same(true: Anomaly, flag: Document) -> bool:
        move = true.details.get("move")
        is_anywhere = true.kind == "order" or move is None or not flag["move"]
        return flag["kind"] == true.kind and (is_anywhere or _same(flag["move"]) == _same(move))

    return _pair_up(
        [one for one in truth.anomalies if one.kind in FLAG_KINDS],
        [one for one in found if one["kind"] in FLAG_KINDS],
        is_same,
        name=lambda true: (true.kind, str(true.details.get("move", ""))),
        extra_name=lambda flag: (flag["kind"], f"{flag['move'] or ''}: {flag['text']}"),
    )


def _pair_up(
    true: Iterable[T],
    found: Iterable[Document],
    is_same: Callable[[T, Document], bool],
    *,
    name: Callable[[T], tuple[str, str]],
    extra_name: Callable[[Document], tuple[str, str]],
) -> tuple[Match, ...]:
    """Give every true thing the first found one that is the same; the others are extra."""
    left = list(found)
    matches = []
    for one in true:
        hit = next((place for place, other in enumerate(left) if is_same(one, other)), None)
        matches.append(Match(*name(one), True, hit is not None))
        if hit is not None:
            left.pop(hit)
    return (*matches, *(Match(*extra_name(other), False, True) for other in left))


def _same(text: object) -> str:
    """Write names one way, so that case, hyphens and spaces do not tell them apart."""
    return " ".join(str(text or "").lower().replace("-", " ").split())
