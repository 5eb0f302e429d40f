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

from reviewkit.findings.asked_for import confessions
from reviewkit.findings.claims import (
    blocks_meant,
    claims,
    is_for_class,
    is_sworn,
    planned_work,
    verdict_on,
)
from reviewkit.findings.places import done_intervals, work_start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.model import UNNAMED, HeardClass, Interval, Mark, Promise, PromiseVerdict

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


def _added(heard: HeardClass, rows: Sequence[Interval]) -> list[Interval]:
    """Give the work that nobody planned in the blocks of some rows."""
    blocks = {one.block for one in rows}
    return [
        one
        for one in heard.intervals
        if one.plan_row is None and one.kind == "work" and one.block in blocks
    ]


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
# What may be one move to a coach and several to a plan: "four shapes on the feet".
_OPEN_THINGS = word_set("shapes things poses bits pieces figures pair pairs")
_SEVERAL = 2
# What a coach says who adds something, so soon before owning up to it.
_MORE = word_set("add adding added extra bonus additional")
_MORE_WITHIN = 10
_ALL_WITHIN = 3
# How far an oath on all of them may stand before the number and behind it.
_SWORN_ALL, _OATH_BEFORE, _OATH_BEHIND = "sworn_all", 10, 30
_OATH = 1.0
# How many words after a count another one may put it right.
_CORRECTED_WITHIN = 12
# Words that mean blocks by a count, and not the rounds in them.
_PARTS = word_set(
    "block blocks part parts half halves section sections set sets superset supersets"
)
_NAMES = {"rounds": "rounds", "moves": "moves", "intervals": "moves"}


def _groups(rows: Sequence[Interval], kind: str) -> list[tuple[_Counting, list[Interval]]]:
    """Pair each counting with the rows it is made over: all of them, or one block's."""
    groups = [(count, list(rows)) for count in _OVER_ALL[kind]]
    for of_block in _by_block(rows):
        groups += [(count, of_block) for count in _BY_BLOCK[kind]]
    return groups


def _by_block(rows: Sequence[Interval]) -> list[list[Interval]]:
    blocks = dict.fromkeys(one.block for one in rows)
    return [[one for one in rows if one.block == block] for block in blocks]


def _said(heard: HeardClass, mark: Mark) -> frozenset[str]:
    return frozenset(word.norm for word in heard.talk.words[mark.first : mark.last + 1])


def _done(rows: Sequence[Interval]) -> list[Interval]:
    return [one for one in rows if one.status != "skipped"]


def _meant(
    rows: Sequence[Interval], kind: str, claimed: int
) -> list[tuple[_Counting, list[Interval]]]:
    """Give the countings, with the rows they are made over, that fit the plan."""
    groups = _groups(rows, kind)
    return [(count, group) for count, group in groups if count(group, group) == claimed]


def _judge(heard: HeardClass, mark: Mark, kind: str, claimed: int) -> Promise | None:
    """Judge a count by the countings that fit the plan; by all when none does."""
    rows = planned_work(heard, blocks_meant(heard, mark))
    if not rows:
        return None
    meant = _meant(rows, kind, claimed)
    if kind == "rounds" and _PARTS.isdisjoint(_said(heard, mark)):
        # Three rounds are no three blocks where something else is three rounds long.
        meant = [one for one in meant if one[0] is not _blocks] or meant
    what = _NAMES[kind]
    if not meant and kind == "rounds" and _sideless(rows, rows) == claimed:
        # "Eight rounds" of a coach who opens and ends each with the bell are intervals.
        done = _sideless(rows, _done(rows)) + len(_added(heard, rows))
        is_kept = done == claimed
        why = "" if is_kept else f"{done} were done"
        verdict: PromiseVerdict = "kept" if is_kept else "broken"
        return verdict_on(what, mark, float(done), verdict, why, said=claimed)
    if meant:
        least = min(count(group, _done(group)) for count, group in meant)
        # Whole-class countings that still hold speak for the coach, unless each block was meant.
        is_kept = least == claimed or _holds_over_all(meant, rows, claimed, kind)
        if is_kept and kind == "moves":
            other = _moves_otherwise(heard, mark, rows)
            is_kept, least = other is None, claimed if other is None else other
        elif is_kept and kind == "rounds":
            more = _rounds_added(heard, rows)
            is_kept, least = not more, claimed + more
        elif is_kept and kind == "intervals" and is_sworn(mark) and mark.value == len(rows):
            least = claimed + len(_added(heard, rows))
            is_kept = least == claimed
        found = float(claimed if is_kept else least)
        why = "" if is_kept else f"{least} were done"
        return verdict_on(what, mark, found, "kept" if is_kept else "broken", why, said=claimed)
    return _judge_unplanned(heard, mark, rows, kind, claimed)


def _moves_otherwise(heard: HeardClass, mark: Mark, rows: Sequence[Interval]) -> int | None:
    """Count the moves where a round had too few, or where the class had more than were sworn."""
    # A whole round on top breaks a promise of rounds and none of moves.
    is_round = bool(_rounds_added(heard, rows))
    extra = 0 if is_round else len(_added(heard, rows)) or int(_owns_up_to_more(heard))
    kinds = _kinds(rows, rows)
    is_to_all = _is_sworn_to_all(heard, mark)
    is_firm = is_to_all or (is_sworn(mark) and is_for_class(heard, mark))
    if extra and is_firm and mark.value == kinds:
        return _kinds(rows, _done(rows)) + extra
    return _fewest(rows, 1 if is_to_all else _SEVERAL)


def _is_sworn_to_all(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether none of so many is to be missed: "all six, both times, I swear"."""
    if not is_for_class(heard, mark):
        return False
    words = heard.talk.words[max(0, mark.first - _ALL_WITHIN) : mark.last + 1]
    is_all = any(word.norm in ("all", "every") for word in words)
    return (is_all and mark.weight >= _OATH) or any(
        one.kind == _SWORN_ALL and -_OATH_BEFORE <= one.first - mark.first <= _OATH_BEHIND
        for one in heard.marks
    )


def _owns_up_to_more(heard: HeardClass) -> bool:
    """Tell whether a coach adds something and owns up to it, once the work began."""
    words, begin = heard.talk.words, work_start_ms(heard)
    return any(
        mark.start_ms > begin
        and not _MORE.isdisjoint(
            word.norm for word in words[max(0, mark.first - _MORE_WITHIN) : mark.last + 1]
        )
        for mark in confessions(heard)
    )


def _rounds_added(heard: HeardClass, rows: Sequence[Interval]) -> int:
    """Count the rounds that came on top: at least half a round's work more than was planned."""
    a_round = _kinds(rows, rows)
    # An extra of another move is no part of one more round.
    moves = {one.move for one in rows} | {UNNAMED}
    again = [one for one in _added(heard, rows) if one.move in moves]
    more = _most_together(heard, again, a_round) - len(rows) + len(_done(rows))
    return max(1, round(more / a_round)) if max(_SEVERAL, a_round / 2) <= more else 0


def _most_together(heard: HeardClass, chosen: Sequence[Interval], reach: int) -> int:
    """Count the most of these that follow each other, fewer than ``reach`` others between two.

    One after every lap is no lap.
    """
    places = [at for at, one in enumerate(done_intervals(heard)) if one in chosen]
    most = run = int(bool(places))
    for before, at in pairwise(places):
        run = run + 1 if at - before <= reach else 1
        most = max(most, run)
    return most


def _fewest(rows: Sequence[Interval], several: int) -> int | None:
    """Count the moves of a round that was done and lacks several of them; None without one.

    A round that lacks one move leaves a promise of so many moves standing unless it was sworn
    to, and one that lacks most of them breaks a promise of rounds.
    """
    rounds: dict[tuple[str, int], list[Interval]] = {}
    for one in rows:
        rounds.setdefault((one.block, one.round), []).append(one)
    counts = [(_kinds(own, own), _kinds(own, _done(own))) for own in rounds.values() if _done(own)]
    short = [done for planned, done in counts if planned - done >= several and done > planned / 2]
    return min(short, default=None)


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
    is_open = kind == "moves" and not _OPEN_THINGS.isdisjoint(_said(heard, mark))
    is_clear = kind != "intervals" and not is_open and _blocks(rows, rows) == 1
    if kind == "moves" and not is_open and not is_clear:
        # "Four exercises in each of them": blocks with as many moves leave one way to count.
        is_clear = len({_kinds(own, own) for own in _by_block(rows)}) == 1
    if kind == "rounds" and not is_clear:
        # Blocks that all go round as often leave one way to count rounds.
        each = {_rounds(own, own) for own in _by_block(rows)}
        is_clear = len(each) == 1 and each != {1} and each <= {claimed - 1, claimed + 1}
    is_clear = is_clear and not _is_told_otherwise(heard, mark, rows, what)
    if is_clear and not heard.plan.is_drafted and abs(found - claimed) <= 3:
        return verdict_on(what, mark, found, "broken", f"the class had {found:g}", said=claimed)
    return verdict_on(
        what, mark, found, "unclear", "it may be counted in another way", said=claimed
    )


def _is_told_otherwise(heard: HeardClass, said: Mark, rows: Sequence[Interval], what: str) -> bool:
    """Tell whether another count of the kind fits the plan: "three times, no, two verses".

    It is a count by its wording, or comes soon after.
    """
    worded = {mark.first for mark in heard.marks if mark.ref in _NAMES}
    # "Two blocks, and round each of them three times": two are not the rounds.
    names_no_parts = _PARTS.isdisjoint(_said(heard, said))
    return any(
        mark.value is not None
        and is_for_class(heard, mark)
        and (mark.first in worded or 0 < mark.first - said.last <= _CORRECTED_WITHIN)
        and not (names_no_parts and not _PARTS.isdisjoint(_said(heard, mark)))
        and _meant(rows, mark.ref, int(mark.value))
        for mark in claims(heard, *(kind for kind, name in _NAMES.items() if name == what))
    )


def judge_counts(heard: HeardClass) -> list[Promise]:
    """Judge every promised number of rounds, moves and intervals."""
    judged: list[Promise | None] = []
    for mark in claims(heard, "rounds", "moves", "intervals", "rounds_again"):
        kind = "rounds" if mark.ref == "rounds_again" else mark.ref
        claimed = 2.0 if mark.ref == "rounds_again" else mark.value
        if claimed is not None and claimed == int(claimed) and claimed > 1:
            judged.append(_judge(heard, mark, kind, int(claimed)))
    return [one for one in judged if one is not None]
