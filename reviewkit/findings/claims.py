"""Sort what was promised by when it was said, and make the records of the verdicts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median_low

from reviewkit.findings.part_claims import COOL_LENGTH, is_part_planned, part_as_planned
from reviewkit.findings.places import done_intervals, end_ms, interval_at, work_start_ms
from reviewkit.language.numbers import find_lengths, find_numbers
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Interval, Mark, Promise, PromiseVerdict

KIND = "promise"
_SURE = 1.0
# From this weight on a claim was made so that small breaches count.
_SWORN = 0.9
# Lengths of which the talk does not say what they measure.
_OPEN = ("length", "maybe_work", "maybe_rest")
# Numbers of which the talk does not say what they count.
_COUNTS = {"maybe_rounds": "rounds", "maybe_moves": "moves"}
# What says that a length is of all there is, and what says that it is no length of work.
_ALL = word_set("all every everything everywhere everyone lot each exception always")
_EACH = word_set("each every everything")
_OF_REST = word_set(
    "rest rests resting break breaks off between breathe breather change recover pause after ago"
)
_ALL_BEFORE, _ALL_AFTER, _REST_WITHIN = 4, 4, 3
# How the length of each of several things is told, so near it.
_OF_EACH, _EACH_WITHIN = word_set("each apiece piece every go"), 6
# Work that starts so lasts less.
_EVERY_MINUTE = "on the minute"
# How long such work may be.
_WORK_S = (15, 150)
# A length this many times as long or as short as another may be of another thing.
_SIMILAR = 2.2
# A rest between rounds that is told by its length alone is no shorter.
_LEAST_BETWEEN_S = 20
_SAME_MS = 500
# A planned length this share off what was said is another one.
_OTHERWISE = 0.3
# Nobody says so many of anything but of all intervals: "that's fourteen and not one more".
_LEAST_COUNTED_OUT = 13


def name_words(move: str) -> list[str]:
    """Cut a move's name into words, at hyphens too."""
    return move.lower().replace("-", " ").split()


def claims(heard: HeardClass, *kinds: str) -> tuple[Mark, ...]:
    """Give the claims of some kinds that are about the class to come, in the order spoken.

    Those are claims before the work begins, in a rest, or said with "I promise"; what is
    said inside an interval is mostly about that interval. Lengths that the talk leaves open
    are taken for what the plan has at that length.
    """
    heard_marks = (mark for mark in heard.marks if mark.kind == KIND)
    marks = (_as_planned(heard, part_as_planned(heard, mark)) for mark in heard_marks)
    return tuple(
        mark
        for mark in marks
        if mark.ref in kinds and (mark.weight >= _SURE or interval_at(heard, mark.start_ms) is None)
    )


def _as_planned(heard: HeardClass, mark: Mark) -> Mark:
    """Say what a length is that only the plan can tell; it stays open when it fits neither."""
    if mark.ref in _COUNTS and is_for_class(heard, mark) and not heard.plan.is_drafted:
        # "Two innings of three things": what is no number of moves may be one of rounds.
        kinds = dict.fromkeys((_COUNTS[mark.ref], "rounds", "intervals"))
        planned = (kind for kind in kinds if mark.value in _planned_counts(heard, kind))
        return replace(mark, ref=next(planned, mark.ref))
    if mark.value is None or heard.plan.is_drafted:
        return mark
    work_ms, rest_ms = _usual_ms(heard)
    if mark.ref == COOL_LENGTH and not is_part_planned(heard, mark):
        # "Then one minute to breathe": the plan has it between two blocks.
        is_between = any(_is_same(ms, mark.value) for ms in _between_rounds_ms(heard))
        # "Planks at the end, twenty seconds each" are no rest.
        is_between = is_between and not is_of_each(heard, mark)
        return replace(mark, ref="rest_rounds") if is_between else mark
    if mark.ref == "rest_rounds":
        # "Ten in the middle, thirty once the pair is done": the plan has ten inside a round.
        is_between = any(_is_same(ms, mark.value) for ms in _between_rounds_ms(heard))
        is_inside = any(_is_same(row.rest_ms, mark.value) for row in heard.plan.rows)
        return replace(mark, ref="rest") if is_inside and not is_between else mark
    if mark.ref == "work" and _is_same(rest_ms, mark.value) and is_for_class(heard, mark):
        # "Forty on the fire and twenty on the side."
        is_work = _is_planned_work(heard, mark.value)
        return mark if is_work else replace(mark, ref="rest")
    if mark.ref == "work" and is_for_class(heard, mark) and not _is_planned_work(heard, mark.value):
        # "I'll give you a full minute on the kerb": the plan has it between rounds; but not so
        # "they're all a whole minute".
        if is_of_all(heard, mark):
            return mark
        is_between = any(_is_same(ms, mark.value) for ms in _between_rounds_ms(heard))
        return replace(mark, ref="rest_rounds") if is_between else mark
    if mark.ref not in _OPEN:
        return mark
    if _is_work_of_all(heard, mark, work_ms):
        return replace(mark, ref="work")
    fits = {
        "work": _is_same(work_ms, mark.value) and mark.ref != "maybe_rest",
        "rest": _is_same(rest_ms, mark.value) and mark.ref != "maybe_work",
    }
    meant = [what for what, is_so in fits.items() if is_so]
    if not meant and mark.value >= _LEAST_BETWEEN_S:
        between = any(_is_same(rest_ms, mark.value) for rest_ms in _between_rounds_ms(heard))
        meant = ["rest_rounds"] if between else []
    return replace(mark, ref=meant[0]) if len(meant) == 1 and is_for_class(heard, mark) else mark


def is_of_all(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether a length is said to be that of everything: "they're all forty seconds"."""
    norms = [word.norm for word in heard.talk.words]
    first, last = mark.first, mark.last + 1
    # "You'll get all forty seconds of it" is of one thing.
    is_of_it = norms[last : last + 1] == ["of"]
    all_words = _ALL - {"all"} if is_of_it else _ALL
    is_all = not all_words.isdisjoint(norms[max(0, first - _ALL_BEFORE) : last])
    is_each = not _EACH.isdisjoint(norms[last : last + _ALL_AFTER])
    close = norms[max(0, first - _REST_WITHIN) : last + _REST_WITHIN]
    return (is_all or is_each) and _OF_REST.isdisjoint(close)


def is_of_each(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether a length is of each of several things: "two minutes each"."""
    words = heard.talk.words[max(0, mark.first - _EACH_WITHIN) : mark.last + _EACH_WITHIN]
    return not _OF_EACH.isdisjoint(word.norm for word in words)


def _is_work_of_all(heard: HeardClass, mark: Mark, usual_ms: int | None) -> bool:
    """Tell whether an open length can only be that of all work."""
    if mark.ref == "maybe_rest" or not mark.value or not usual_ms or not is_for_class(heard, mark):
        return False
    if not _WORK_S[0] <= mark.value <= _WORK_S[1] or not is_of_all(heard, mark):
        return False
    is_rest = any(_is_same(row.rest_ms, mark.value) for row in heard.plan.rows)
    return not is_rest and is_similar(1000 * mark.value, usual_ms)


def _is_planned_work(heard: HeardClass, said_s: float) -> bool:
    return any(_is_same(row.work_ms, said_s) for row in heard.plan.rows)


def _planned_counts(heard: HeardClass, what: str) -> set[float]:
    """Give how many rounds, or different moves, the blocks of work have; or all intervals."""
    rows = [row for row in heard.plan.rows if row.kind == "work"]
    if what == "intervals":
        return {float(len(rows))} if len(rows) >= _LEAST_COUNTED_OUT else set()
    by_block: dict[str, set[int | str]] = {}
    for row in rows:
        by_block.setdefault(row.block, set()).add(row.round if what == "rounds" else row.move)
    return {float(len(own)) for own in by_block.values() if len(own) > 1}


def _between_rounds_ms(heard: HeardClass) -> list[int]:
    """Give the planned rests between two rounds or blocks of work."""
    pairs = pairwise(row for row in heard.plan.rows if row.kind == "work")
    return [
        before.rest_ms
        for before, after in pairs
        if before.rest_ms and (before.block, before.round) != (after.block, after.round)
    ]


def _is_same(planned_ms: int | None, said_s: float) -> bool:
    return planned_ms is not None and abs(planned_ms - 1000 * said_s) <= _SAME_MS


def belongs_elsewhere(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether a length said of work or rest is the plan's length of something else.

    "On the minute" names work and rest together, "forty seconds, and after it" the work
    before a rest: who says a length that the plan has promises no other.
    """
    if mark.value is None or heard.plan.is_drafted:
        return False
    work_ms, rest_ms = _usual_ms(heard)
    both_ms = work_ms + rest_ms if work_ms is not None and rest_ms is not None else None
    own_ms, other_ms = (work_ms, rest_ms) if mark.ref == "work" else (rest_ms, work_ms)
    is_other = _is_same(other_ms, mark.value) or _is_same(both_ms, mark.value)
    if mark.ref == "work" and any(_is_same(ms, mark.value) for ms in _rounds_ms(heard)):
        is_other = True
    is_sum = _is_same(both_ms, mark.value) and _is_added_up(heard, mark)
    if mark.ref == "work" and is_of_all(heard, mark) and not is_sum:
        # "They're all a whole minute" is of the work, whatever else is a minute long.
        return False
    return is_other and not _is_same(own_ms, mark.value) and mark.weight < _SURE


def _is_added_up(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether work and rest may be meant: "every minute on the minute", "a minute and ten"."""
    near = heard.talk.words[max(0, mark.first - _ALL_BEFORE) : mark.last + 1 + _ALL_AFTER]
    said = heard.talk.words[mark.first : mark.last + 1]
    is_joined = any(word.norm == "and" for word in said)
    return is_joined or _EVERY_MINUTE in " ".join(word.norm for word in near)


def planned_otherwise(
    heard: HeardClass, mark: Mark, planned: Sequence[tuple[str, int | None]]
) -> int | None:
    """Give the usual length of most of a class, where no number said before the work is near it.

    Args:
        heard: The class.
        mark: A claim in seconds.
        planned: For each row its block and length, in milliseconds. Where there are several
            blocks, the claim may be of one of them.
    """
    if not is_for_class(heard, mark) or heard.plan.is_drafted or mark.value is None:
        return None
    said = told_before_ms(heard)
    claimed_ms = 1000 * mark.value
    known = [ms for _, ms in planned if ms is not None]
    others = [
        ms
        for ms in known
        if abs(ms - claimed_ms) > _OTHERWISE * claimed_ms
        and all(abs(ms - own) > _SAME_MS for own in said)
    ]
    is_clear = len({block for block, _ in planned}) == 1 and 2 * len(others) >= len(known)
    return median_low(others) if others and is_clear else None


def told_before_ms(heard: HeardClass) -> set[float]:
    """Give every number said before the work began, as seconds in milliseconds."""
    begin = work_start_ms(heard)
    words = [word.norm for word in heard.talk.words if word.start_ms < begin]
    numbers = {1000 * one.value for one in find_numbers(words)}
    return numbers | {1000 * one.seconds for one in find_lengths(words)}


def is_similar(one: float, other: float) -> bool:
    """Tell whether two lengths can be of one thing: neither is far more than twice the other."""
    return 1 / _SIMILAR <= one / other <= _SIMILAR


def _rounds_ms(heard: HeardClass) -> set[int]:
    """Give how much work each planned round of several moves has: "two minutes a round"."""
    rounds: dict[tuple[str, int], list[int]] = {}
    for row in heard.plan.rows:
        if row.kind == "work":
            rounds.setdefault((row.block, row.round), []).append(row.work_ms)
    return {sum(own) for own in rounds.values() if len(own) > 1}


def _usual_ms(heard: HeardClass) -> tuple[int | None, int | None]:
    """Give the usual planned length of work and of the rests inside it."""
    rows = [row for row in heard.plan.rows if row.kind == "work"]
    work = Counter(row.work_ms for row in rows).most_common(1)
    rest = Counter(row.rest_ms for row in rows[:-1] if row.rest_ms is not None).most_common(1)
    return (work[0][0] if work else None), (rest[0][0] if rest else None)


def is_sworn(mark: Mark) -> bool:
    """Tell whether a claim was made with stress: "I promise", "not a second more"."""
    return mark.weight >= _SWORN


def is_for_class(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether a claim was made before the work began."""
    return mark.start_ms < work_start_ms(heard)


def blocks_meant(heard: HeardClass, mark: Mark) -> tuple[str, ...]:
    """Name the blocks a claim is about: all with work, or the one that comes next."""
    if is_for_class(heard, mark):
        blocks = [one.block for one in heard.intervals if one.kind == "work"]
        return tuple(dict.fromkeys(blocks))
    following = (one for one in done_intervals(heard) if mark.start_ms <= end_ms(one))
    upcoming = next(following, None)
    return (upcoming.block,) if upcoming and upcoming.kind == "work" else ()


def planned_work(heard: HeardClass, blocks: Sequence[str]) -> tuple[Interval, ...]:
    """Give the planned work intervals of some blocks, skipped ones too, in plan order."""
    chosen = [
        one
        for one in heard.intervals
        if one.plan_row is not None and one.kind == "work" and one.block in blocks
    ]
    return tuple(sorted(chosen, key=lambda one: one.plan_row or 0))


def verdict_on(
    what: str,
    mark: Mark,
    found: float | str | None,
    verdict: PromiseVerdict,
    why: str = "",
    *,
    said: float | str | None = None,
) -> Promise:
    """Make the record of a verdict on one claim."""
    return Promise(
        what, mark.start_ms, mark.text, mark.value if said is None else said, found, verdict, why
    )


def distinct(promises: Sequence[Promise]) -> tuple[Promise, ...]:
    """Keep one promise of each kind and claim, the first said; a broken one comes first."""
    kept: dict[tuple[str, object], Promise] = {}
    for promise in promises:
        key = (promise.what, promise.said)
        if key not in kept or (promise.verdict == "broken" != kept[key].verdict):
            kept[key] = promise
    return tuple(sorted(kept.values(), key=lambda one: one.at_ms))
