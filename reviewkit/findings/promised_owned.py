"""Judge what the coach owns, once the work began, to have promised otherwise.

"I know I said four, three is plenty": such words say themselves that a promise is broken,
also of one that was not understood when it was made. Which kind of promise it was is told by
the noun behind the number, by what was claimed with that number, or by what it became.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from reviewkit.findings.claims import KIND, is_for_class, is_similar, planned_work, verdict_on
from reviewkit.findings.places import done_intervals, interval_at, start_ms, work_start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Mark, Promise

_TAKEN_BACK, _COUNT = "taken_back", "count"
# Nouns close behind a number, and what it then counts or measures.
_NOUNS = {
    "rounds": word_set(
        "round rounds time times goes go turn turns lap laps trip trips through visits circuits "
        "sets set passes"
    ),
    "moves": word_set(
        "move moves exercise exercises thing things station stations job jobs drill drills stop "
        "stops shapes pieces"
    ),
    "rest": word_set("off rest break between breather recover"),
    "work": word_set("on each apiece"),
}
_NOUN_WITHIN = 3
# Claims by what they are about, the plainly worded before the open ones.
_ABOUT = {
    "rounds": "rounds", "rounds_again": "rounds", "moves": "moves", "intervals": "moves",
    "work": "work", "rest": "rest", "rest_rounds": "rest", "rest_sides": "rest",
    "maybe_rounds": "rounds", "maybe_moves": "moves", "maybe_work": "work", "maybe_rest": "rest",
}  # fmt: skip
_TIMES = ("twice", "thrice")
# "I know I said one pair": what is counted is kit.
_KIT = word_set("pair pairs dumbbell dumbbells bell bells weight weights band bands tin tins")
_BOTH = (False, True)
# A bare number from here on can be seconds, and up to here a count.
_SECONDS_FROM, _COUNTS_TO = 8, 14
# Up to so many seconds that were said inside an interval are what was left of it.
_LEFT_S = 20


def judge_owned(heard: HeardClass) -> list[Promise]:
    """Give a broken promise for each number that the coach owns to have said otherwise."""
    begin = work_start_ms(heard)
    owned = (one for one in heard.marks if one.kind == _TAKEN_BACK and begin < one.start_ms)
    judged = (_judge(heard, one) for one in owned)
    return [one for one in judged if one is not None]


def _judge(heard: HeardClass, owned: Mark) -> Promise | None:
    if not _KIT.isdisjoint(_behind(heard, owned)) or _is_time_call(heard, owned):
        return None
    said, became = _claims_of(heard, owned), _became(owned)
    worded, open_claims = ([one for one in said if _is_open(one) == wanted] for wanted in _BOTH)
    done = _done_counts(heard, owned)
    for what in (
        _noun_of(heard, owned),
        *(_ABOUT[one.ref] for one in worded),
        _kind_done(owned, done, became),
        *(_ABOUT[one.ref] for one in open_claims if one.ref != "maybe_moves"),
    ):
        if what and _is_possible(owned, what, done, became):
            claim = next((one for one in said if _ABOUT[one.ref] == what), owned)
            found = became if what not in done or became in done[what] else done[what][0]
            claim = replace(claim, value=owned.value)
            return verdict_on(what, claim, found, "broken", "the coach said so")
    return None


def _is_time_call(heard: HeardClass, owned: Mark) -> bool:
    """Tell "I know I said ten seconds", said in an interval of what is left, from a promise."""
    is_short = _is_time(owned) and (owned.value or 0) <= _LEFT_S
    return is_short and interval_at(heard, owned.start_ms) is not None


def _is_open(claim: Mark) -> bool:
    return claim.ref.startswith("maybe_")


def _is_possible(
    owned: Mark, what: str, done: Mapping[str, Sequence[int]], became: float | None
) -> bool:
    """Tell whether a number can be what was promised of a kind, and was not kept."""
    said = owned.value or 0.0
    if what in done:
        return _is_count(owned) and (said != done[what][0] or became in done[what][1:])
    return _is_time(owned) and (became is None or is_similar(became, said))


def _became(owned: Mark) -> float | None:
    _, _, became = owned.ref.partition(" ")
    return float(became) if became else None


def _claims_of(heard: HeardClass, owned: Mark) -> list[Mark]:
    """Give what was claimed with the number before the work, plainly worded claims first."""
    claims = [
        one
        for one in heard.marks
        if one.kind == KIND
        and one.ref in _ABOUT
        and is_for_class(heard, one)
        and (2.0 if one.ref == "rounds_again" else one.value) == owned.value
    ]
    order = list(_ABOUT)
    return sorted(claims, key=lambda one: order.index(one.ref))


def _noun_of(heard: HeardClass, owned: Mark) -> str:
    """Name what a number counts by the nouns right behind it."""
    if heard.talk.words[owned.last].norm in _TIMES:
        return "rounds"
    fits = (what for word in _behind(heard, owned) for what in _NOUNS if word in _NOUNS[what])
    return next(fits, "")


def _behind(heard: HeardClass, owned: Mark) -> list[str]:
    words = heard.talk.words[owned.last + 1 : owned.last + 1 + _NOUN_WITHIN]
    return [word.norm for word in words]


def _is_time(owned: Mark) -> bool:
    return not owned.ref.startswith(_COUNT) or (owned.value or 0) >= _SECONDS_FROM


def _is_count(owned: Mark) -> bool:
    return owned.ref.startswith(_COUNT) and (owned.value or 0) <= _COUNTS_TO


def _done_counts(heard: HeardClass, owned: Mark) -> dict[str, tuple[int, ...]]:
    """Count rounds and moves done in the block that the coach speaks of, the one just done.

    Where something nobody planned was done in it there may be one more of either.
    """
    done = [one for one in done_intervals(heard) if one.kind == "work"]
    before = [one for one in done if start_ms(one) <= owned.start_ms] or done[:1]
    block = before[-1].block if before else ""
    rows = [one for one in planned_work(heard, (block,)) if one.status != "skipped"]
    more = any(one.plan_row is None and one.block == block for one in done)
    counts = {
        "rounds": len({one.round for one in rows}),
        "moves": len({one.move for one in rows}),
    }
    return {what: (count, count + 1)[: 1 + more] for what, count in counts.items()}


def _kind_done(owned: Mark, done: Mapping[str, Sequence[int]], became: float | None) -> str:
    """Name what a number counts by what it became: as many rounds, or moves, were done."""
    if became is None or not _is_count(owned):
        return ""
    fits = [what for what, counts in done.items() if became in counts]
    return fits[0] if len(fits) == 1 else ""
