"""Judge promised counts: rounds, moves and intervals.

A count can be meant in several ways ("eight goes make a block"). The plan says which:
among all countings, those that give the promised number on the plan are the ones meant,
and the same countings over what was done give the verdict.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import pairwise
from statistics import median_low

from reviewkit.findings.claims import blocks_meant, claims, is_for_class, planned_work, verdict_on
from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Interval, Mark, Promise, PromiseVerdict

# Counts one thing over planned intervals, given all of them and those that were done.
_Counting = Callable[[Sequence[Interval], Sequence[Interval]], int]


def _kinds(_: Sequence[Interval], done: Sequence[Interval]) -> int:
    return len({one.move for one in done})


def _slots(_: Sequence[Interval], done: Sequence[Interval]) -> int:
    return len(done)


def _rounds(planned: Sequence[Interval], done: Sequence[Interval]) -> int:
    """Count the rounds of one block, less those that more than half of its moves lack.

    When a round is left out, each move comes once less, and which round it was of is a
    guess where all rounds are alike; so moves are counted and not only round numbers.
    """
    asked = Counter((one.move, one.side) for one in planned)
    came = Counter((one.move, one.side) for one in done)
    lacking = median_low(times - came[move] for move, times in asked.items()) if asked else 0
    rounds = len({one.round for one in planned})
    return min(len({one.round for one in done}), rounds - lacking)


def _sideless(_: Sequence[Interval], done: Sequence[Interval]) -> int:
    """Count intervals with both sides of a move as one."""
    return len({(one.block, one.round, one.move) for one in done})


def _blocks(_: Sequence[Interval], done: Sequence[Interval]) -> int:
    return len({one.block for one in done})


def _all_rounds(planned: Sequence[Interval], done: Sequence[Interval]) -> int:
    """Count the rounds of all blocks together."""
    return sum(
        _rounds(
            [one for one in planned if one.block == block],
            [one for one in done if one.block == block],
        )
        for block in dict.fromkeys(one.block for one in planned)
    )


def _work_added(heard: HeardClass, rows: Sequence[Interval]) -> int:
    """Count work that nobody planned in the blocks of some rows."""
    blocks = {one.block for one in rows}
    return sum(
        one.plan_row is None and one.kind == "work" and one.block in blocks
        for one in heard.intervals
    )


_OVER_ALL: dict[str, tuple[_Counting, ...]] = {
    "rounds": (_all_rounds, _blocks),
    "moves": (_kinds,),
    "intervals": (_slots, _sideless, _kinds),
}
_BY_BLOCK: dict[str, tuple[_Counting, ...]] = {
    "rounds": (_rounds,),
    "moves": (_kinds,),
    "intervals": (_slots, _sideless, _kinds),
}
_AGAIN = 2
# Words that make "again" mean the whole round and not one move.
_ALL = word_set("all everything whole lot same order them")
_NAMES = {"rounds": "rounds", "moves": "moves", "intervals": "moves"}


def _groups(rows: Sequence[Interval], kind: str) -> list[tuple[_Counting, list[Interval]]]:
    """Pair each counting with the rows it is made over: all of them, or one block's."""
    groups = [(count, list(rows)) for count in _OVER_ALL[kind]]
    for block in dict.fromkeys(one.block for one in rows):
        of_block = [one for one in rows if one.block == block]
        groups += [(count, of_block) for count in _BY_BLOCK[kind]]
    return groups


def _done(rows: Sequence[Interval]) -> list[Interval]:
    return [one for one in rows if one.status != "skipped"]


def _judge(heard: HeardClass, mark: Mark, kind: str, claimed: int) -> Promise | None:
    """Judge a count by the countings that fit the plan; by all when none does."""
    rows = planned_work(heard, blocks_meant(heard, mark))
    if not rows:
        return None
    groups = _groups(rows, kind)
    meant = [(count, group) for count, group in groups if count(group, group) == claimed]
    what = _NAMES[kind]
    if not meant and kind == "rounds" and _sideless(rows, rows) == claimed:
        # "Eight rounds" of a coach who opens and ends each with the bell are intervals.
        done = _sideless(rows, _done(rows)) + _work_added(heard, rows)
        is_kept = done == claimed
        why = "" if is_kept else f"{done} were done"
        verdict: PromiseVerdict = "kept" if is_kept else "broken"
        return verdict_on(what, mark, float(done), verdict, why, said=claimed)
    if meant:
        least = min(count(group, _done(group)) for count, group in meant)
        # Whole-class countings that still hold speak for the coach, unless each block was meant.
        is_kept = least == claimed or _holds_over_all(meant, rows, claimed, kind)
        found = float(claimed if is_kept else least)
        why = "" if is_kept else f"{least} were done"
        return verdict_on(what, mark, found, "kept" if is_kept else "broken", why, said=claimed)
    return _judge_unplanned(heard, mark, rows, kind, claimed)


def _holds_over_all(
    meant: Sequence[tuple[_Counting, list[Interval]]],
    rows: Sequence[Interval],
    claimed: int,
    kind: str,
) -> bool:
    """Tell whether a counting over the whole class still gives the promised number."""
    if kind == "intervals":
        return False
    return any(
        count(group, _done(group)) == claimed for count, group in meant if len(group) == len(rows)
    )


def _judge_unplanned(
    heard: HeardClass, mark: Mark, rows: Sequence[Interval], kind: str, claimed: int
) -> Promise | None:
    """Judge a count that the plan never had: broken only where one counting is possible."""
    if not is_for_class(heard, mark):
        return None
    what = _NAMES[kind]
    actual = {count(group, _done(group)) for count, group in _groups(rows, kind)}
    main = _OVER_ALL[kind][0] if kind == "moves" else _BY_BLOCK[kind][0]
    largest = max((group for _, group in _groups(rows, kind)[len(_OVER_ALL[kind]) :]), key=len)
    counted = list(rows) if kind == "moves" else largest
    found = float(main(counted, _done(counted)))
    if claimed in actual:
        return verdict_on(what, mark, float(claimed), "kept", said=claimed)
    is_clear = kind != "intervals" and _blocks(rows, rows) == 1
    if is_clear and not heard.plan.is_drafted and abs(found - claimed) <= 3:
        return verdict_on(what, mark, found, "broken", f"the class had {found:g}", said=claimed)
    return verdict_on(
        what, mark, found, "unclear", "it may be counted in another way", said=claimed
    )


def _judge_again(heard: HeardClass, mark: Mark) -> Promise | None:
    """Judge "the same again": broken by a move that came once and was planned twice."""
    rows = planned_work(heard, blocks_meant(heard, mark))
    planned = Counter((one.move, one.side) for one in rows)
    came = Counter((one.move, one.side) for one in _done(rows))
    once = next((key for key, times in planned.items() if came[key] < times == _AGAIN), None)
    if once is None:
        return None
    why = f"{once[0]} did not come again"
    return verdict_on("moves", mark, once[0], "broken", why, said="all again")


def _is_of_lap(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether a claim between two rounds of a block is about all of the round."""
    said = {word.norm for word in heard.talk.words[mark.first : mark.last + 1]}
    done = [one for one in done_intervals(heard) if one.plan_row is not None]
    return not _ALL.isdisjoint(said) and any(
        end_ms(before) <= mark.start_ms < start_ms(after)
        and before.block == after.block
        and before.round < after.round
        for before, after in pairwise(done)
    )


def judge_counts(heard: HeardClass) -> list[Promise]:
    """Judge every promised number of rounds, moves and intervals."""
    judged: list[Promise | None] = []
    for mark in claims(heard, "rounds", "moves", "intervals", "rounds_again"):
        kind = "rounds" if mark.ref == "rounds_again" else mark.ref
        claimed = 2.0 if mark.ref == "rounds_again" else mark.value
        if claimed is not None and claimed == int(claimed) and claimed > 1:
            judged.append(_judge(heard, mark, kind, int(claimed)))
        if mark.ref == "rounds_again" and (is_for_class(heard, mark) or _is_of_lap(heard, mark)):
            judged.append(_judge_again(heard, mark))
    return [one for one in judged if one is not None]
