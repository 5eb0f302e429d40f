"""Judge a promised warm-up and cool-down, and promises to do without."""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.findings.asked_for import confessions
from reviewkit.findings.claims import claims, is_for_class, name_words, verdict_on
from reviewkit.findings.places import (
    done_intervals,
    end_ms,
    start_ms,
    work_end_ms,
    work_start_ms,
)
from reviewkit.language.numbers import find_numbers
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Interval, Mark, PlanKind, Promise, PromiseVerdict

_SHORT_SHARE = 0.75
# Words around a claim that say what is in the part.
_AROUND = 10
_THINGS = word_set("stretch stretches ones things poses shapes")
_CALM = word_set(
    "stretch stretches fold savasana rest breathing breath sway hang pose hug twist roll reach"
)
# A cool-down that is called off at the end takes less than this share of what was planned.
_CALLED_OFF_SHARE = 0.5
# A class that goes on longer than this after its last interval may have had a stretch in it.
_AFTER_LAST_MS = 25_000
_NAMES_PART = word_set(
    "stretch stretches stretching stretched cool-down cool warm-up warm savasana mobilise"
)
# "Lying down", said near a length, and how moves are called that are no more than that.
_LYING, _LYING_WITHIN = word_set("lie lying lain still stillness flat savasana shavasana"), 4
_LIES = word_set("lying lie rest savasana shavasana still corpse stillness relaxation")
_FEW = (2, 3, 4, 5, 6)
_NUMBER_REACH = 3
_PLAIN_WORDS = word_set(
    "stretch stretches standing seated lying kneeling slow long the on of and in at to over with "
    "left right each side sides easy breathing hold walk"
)
_LENGTHS: tuple[tuple[str, str, PlanKind], ...] = (
    ("warm_length", "warm_up", "warm-up"),
    ("cool_length", "cool_down", "cool-down"),
)


def _was_done(heard: HeardClass, kind: PlanKind) -> bool:
    done = done_intervals(heard)
    if any(one.kind == kind for one in done):
        return kind != "cool-down" or not _is_called_off(heard)
    # Nobody planned a part of this kind, and yet the class ended with one.
    last = done[-1] if done and kind == "cool-down" else None
    return last is not None and last.plan_row is None and _is_calm(last.move_done)


def _is_called_off(heard: HeardClass) -> bool:
    """Tell whether viewers are left to stretch by themselves where the cool-down was to be.

    What was found there is then no more than the words around it, and far too short.
    """
    rows = [one for one in heard.intervals if one.kind == "cool-down" and one.plan_row is not None]
    took_ms = sum(one.length_ms or 0 for one in rows)
    planned_ms = sum(one.planned_ms or 0 for one in rows)
    end = work_end_ms(heard)
    denied = (mark for mark in heard.marks if mark.ref == "no_cool_down")
    return took_ms < _CALLED_OFF_SHARE * planned_ms and any(
        end <= mark.end_ms for mark in (*confessions(heard), *denied)
    )


def _is_before_all(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether a claim was made before anything was done, and so is about all of it."""
    done = done_intervals(heard)
    return not done or mark.start_ms < start_ms(done[0])


def _is_calm(move: str) -> bool:
    return not _CALM.isdisjoint(name_words(move))


def _is_known(heard: HeardClass) -> bool:
    """Tell whether the plan says of its rows which part of the class they are."""
    return any(row.kind != "work" for row in heard.plan.rows)


def _is_meant(heard: HeardClass, kind: PlanKind) -> bool:
    """Tell whether a part that is not named may be meant: no warm-up is where none is planned."""
    return kind != "warm-up" or any(row.kind == kind for row in heard.plan.rows)


def _left_out(heard: HeardClass, mark: Mark, kind: PlanKind) -> str:
    """Name a move of a part that was promised and left out; empty without one.

    Promised are so many of them ("two long ones"), or one by name ("a hip stretch").
    """
    part = [one for one in heard.intervals if one.plan_row is not None and one.kind == kind]
    done = {one.move for one in part if one.status != "skipped"}
    skipped = [one.move for one in part if one.move not in done]
    if not skipped:
        return ""
    low = max(0, mark.first - _AROUND)
    said = [word.norm for word in heard.talk.words[low : mark.last + _AROUND + 1]]
    named = (one for one in skipped if _telling(one) & set(said))
    if first := next(named, ""):
        return first
    return skipped[0] if len(done) < _asked(said) else ""


def _telling(move: str) -> set[str]:
    """Give the words of a move's name that tell it from other moves of its part."""
    return set(name_words(move)) - _PLAIN_WORDS


def _asked(said: Sequence[str]) -> int:
    """Count how many moves of a part are asked for: a number before a word for them, or each."""
    things = [at for at, word in enumerate(said) if word in _THINGS]
    numbers = [
        number.value
        for number in find_numbers(list(said))
        if number.value in _FEW and any(0 < at - number.last <= _NUMBER_REACH for at in things)
    ]
    couple = any(said[at] == "couple" for at in range(len(said))) and bool(things)
    return int(max((*numbers, 2 if couple else 0, len(things))))


def _names_it(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether a claim said in the class speaks of the part by name."""
    said = (word.norm for word in heard.talk.words[mark.first : mark.last + 1])
    return not _NAMES_PART.isdisjoint(said)


def _ends_at_once(heard: HeardClass, kind: PlanKind) -> bool:
    """Tell whether the class ends with its last interval, so that no cool-down can follow.

    What is done there is no stretch by its name, and the plan says of all rows they are work.
    """
    done = done_intervals(heard)
    if kind != "cool-down" or not done:
        return False
    return (
        not _is_calm(done[-1].move_done)
        and heard.talk.length_ms - end_ms(done[-1]) < _AFTER_LAST_MS
    )


def _judge_part(
    heard: HeardClass, mark: Mark, what: str, kind: PlanKind, *, wanted: bool
) -> Promise:
    was_done = _was_done(heard, kind)
    found = "done" if was_done else "not done"
    said = "promised" if wanted else "none"
    if wanted and was_done and (left_out := _left_out(heard, mark, kind)):
        return verdict_on(what, mark, found, "broken", f"{left_out} was left out", said=said)
    ends_at_once = is_for_class(heard, mark) and _ends_at_once(heard, kind)
    if wanted and not was_done and not _is_known(heard) and not ends_at_once:
        why = "the plan does not say which rows are warm-up or cool-down"
        return verdict_on(what, mark, found, "unclear", why, said=said)
    is_clear = _names_it(heard, mark) or (_is_before_all(heard, mark) and _is_meant(heard, kind))
    if wanted and not was_done and not is_clear:
        return verdict_on(what, mark, found, "unclear", "it may be meant otherwise", said=said)
    verdict: PromiseVerdict = "kept" if was_done == wanted else "unclear"
    if wanted and not was_done:
        verdict = "broken"
    return verdict_on(what, mark, found, verdict, said=said)


def _judge_part_length(heard: HeardClass, mark: Mark, what: str, kind: PlanKind) -> Promise:
    """Judge a promised length of a part by its intervals and the rests inside it."""
    claimed_s = mark.value or 0.0
    part = [one for one in done_intervals(heard) if one.kind == kind]
    if not part:
        return verdict_on(what, mark, 0.0, "broken" if _is_known(heard) else "unclear")
    span_s = _span_s(_lain(heard, mark, part), claimed_s)
    is_short = span_s < _SHORT_SHARE * claimed_s and claimed_s - span_s > 15
    why = f"the {kind} took {span_s:.0f} s" if is_short else ""
    return verdict_on(what, mark, round(span_s), "broken" if is_short else "kept", why)


def _lain(heard: HeardClass, mark: Mark, part: Sequence[Interval]) -> Sequence[Interval]:
    """Give the intervals of a part that are meant by "two minutes of lying down", or all of it.

    Those are the ones whose names lie down; a stretch before them is not what was promised.
    """
    low = max(0, mark.first - _LYING_WITHIN)
    said = {word.norm for word in heard.talk.words[low : mark.last + _LYING_WITHIN + 1]}
    if said.isdisjoint(_LYING):
        return part
    return [one for one in part if not _LIES.isdisjoint(name_words(one.move_done))] or part


def _span_s(part: Sequence[Interval], claimed_s: float) -> float:
    """Give how long a part took; of one row, where the plan has it alone as long as claimed.

    "Two whole minutes lying down" means the lying down and not the stretches before it.
    """
    alone = [one for one in part if one.planned_ms == 1000 * claimed_s]
    meant = alone if len(alone) == 1 else part
    first, last = meant[0].start, meant[-1].end
    return (last.at_ms - first.at_ms) / 1000 if first and last else 0.0


def _last_start_ms(heard: HeardClass) -> int:
    """Give when the last interval began: until then a cool-down may be promised a length."""
    done = done_intervals(heard)
    return start_ms(done[-1]) if done else 0


def judge_parts(heard: HeardClass) -> list[Promise]:
    """Judge promises of a warm-up made before the work, of a cool-down before it was over."""
    begin, end = work_start_ms(heard), work_end_ms(heard)
    kinds: tuple[tuple[str, str, PlanKind, bool], ...] = (
        ("warm_up", "warm_up", "warm-up", True),
        ("no_warm_up", "warm_up", "warm-up", False),
        ("cool_down", "cool_down", "cool-down", True),
        ("no_cool_down", "cool_down", "cool-down", False),
    )
    # What is called off before the work was never promised; later it is a promise broken.
    denied = {
        mark.ref.removeprefix("no_")
        for mark in claims(heard, "no_warm_up", "no_cool_down")
        if is_for_class(heard, mark)
    }
    judged = [
        _judge_part(heard, mark, what, kind, wanted=wanted)
        for ref, what, kind, wanted in kinds
        if ref not in denied  # "No warm-up; we'll call round one a warm-up" promises none.
        for mark in claims(heard, ref)
        if mark.start_ms < (begin if kind == "warm-up" else end)
    ]
    if any(row.kind == "cool-down" for row in heard.plan.rows) and not heard.plan.is_drafted:
        # What comes "at the end" is the cool-down that was planned.
        judged += [
            _judge_part(heard, mark, "cool_down", "cool-down", wanted=True)
            for mark in claims(heard, "maybe_cool_down")
            if is_for_class(heard, mark)
        ]
    lengths = [
        _judge_part_length(heard, mark, what, kind)
        for ref, what, kind in _LENGTHS
        for mark in claims(heard, ref)
        if mark.value and mark.start_ms < (begin if kind == "warm-up" else _last_start_ms(heard))
    ]
    return [*judged, *lengths]
