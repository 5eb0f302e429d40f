"""Claims about the time left: "halfway", "ten seconds", "twenty in the bank", "two more".

A mark of kind ``time_call`` has ``ref``

* ``left``: ``value`` seconds are left;
* ``gone``: ``value`` seconds are over, the rest of the plan is left;
* ``halfway``: half of the interval is left (no value);
* ``share``: the share ``value`` of the interval is left, as in "a quarter to go";
* ``class``: about the workout rather than the interval (``value`` when one was said);
* ``reps``: repetitions, rounds or "nearly there", no claim in seconds.

Left alone: planned doses ("hold for thirty"), tempo, counts, angles, weights, dates. A
coach who corrects himself ("ten, no, five seconds") is held to the last number. Words that
only may be a claim become marks of kind ``maybe_call`` (``maybe_calls.py``).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import replace

from reviewkit.language.lines import split_lines
from reviewkit.language.numbers import UNITS, find_numbers
from reviewkit.language.overlap import overlaps
from reviewkit.language.phrase_index import index_phrases
from reviewkit.marks.call_line import ROUND_S, Call, CallLine, touches
from reviewkit.marks.counts import find_counts
from reviewkit.marks.done_calls import done_calls
from reviewkit.marks.half_calls import half_calls
from reviewkit.marks.length_calls import length_calls
from reviewkit.marks.maybe_calls import KIND as MAYBE
from reviewkit.marks.maybe_calls import maybe_calls
from reviewkit.marks.number_calls import number_calls
from reviewkit.model import Lexicon, Mark, Talk

KIND = "time_call"
LIST = "time_calls"
# A number this soon after a count goes on from it: "three two one and five more".
_AFTER_COUNT_MS = 3000


def read_calls(words: Sequence[str], lexicon: Lexicon) -> tuple[Call, ...]:
    """Read the time calls in the normalised words of one line, in order.

    Args:
        words: One utterance.
        lexicon: Its list ``time_calls`` says which words make a number a call.

    Returns:
        Calls by position in ``words``; of several claims that correct or repeat one
        another only the last is kept.
    """
    line = CallLine(tuple(words), index_phrases(lexicon.lists.get(LIST, ())))
    claims = sorted((*length_calls(line), *number_calls(line), *half_calls(line)), key=_place)
    claims = _settle(line, claims)
    for call in sorted(_loose_calls(line), key=_place):
        if not touches(call, claims):
            claims.append(call)
    return tuple(sorted(claims, key=_place))


def _place(call: Call) -> tuple[int, int]:
    return call.first, call.last


# --- without a claim -----------------------------------------------------------------


def _loose_calls(line: CallLine) -> Iterator[Call]:
    """Find repetitions left and "nearly there": calls that claim no seconds."""
    for label, ref in (("rep", "reps"), ("soon", "reps")):
        for first, last in line.named(label).find(line.words):
            if not line.is_story(first, last + 1):
                yield Call(first, last, ref)
    for number in find_numbers(line.words):
        end = line.after("rep_after", number.last + 1)
        is_story = line.is_story(number.first, number.last + 1)
        if end >= 0 and number.value <= 30 and number.value not in ROUND_S and not is_story:
            yield Call(number.first, end, "reps")
    yield from done_calls(line)


# --- one claim a line ----------------------------------------------------------------


def _settle(line: CallLine, claims: list[Call]) -> list[Call]:
    """Keep one claim of those that correct, repeat or complete one another."""
    kept: list[Call] = []
    for call in claims:
        if kept and touches(call, kept[-1:]):
            kept[-1] = max(kept[-1], call, key=lambda c: (c.last - c.first, -c.first))
            continue
        if kept and _replaces(line, kept[-1], call):
            kept[-1] = call
        elif kept and _repeats(kept[-1], call):
            kept[-1] = replace(kept[-1], last=call.last)
        else:
            kept.append(call)
    return kept


def _replaces(line: CallLine, before: Call, after: Call) -> bool:
    between = line.words[before.last + 1 : after.first]
    is_correction = any(line.named("correct").length_at(between, i) for i in range(len(between)))
    completes = before.ref in ("gone", "halfway") and after.ref == "left"
    return is_correction or completes


def _repeats(before: Call, after: Call) -> bool:
    is_same = before.ref == after.ref and before.value == after.value
    return is_same or (before.ref == "left" and after.ref in ("gone", "halfway"))


# --- the whole talk ------------------------------------------------------------------


def find_time_calls(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Find every time call of a class, in order; see the module for ``ref`` and ``value``."""
    counts = find_counts(talk)
    marks = []
    for line in split_lines(talk):
        norms = tuple(word.norm for word in talk.words[line.first : line.last + 1])
        calls = read_calls(norms, lexicon)
        for call in calls:
            mark = _with_counts(talk, _mark(talk, line.first, call, KIND), counts)
            if mark is not None:
                marks.append(mark)
        for call in maybe_calls(CallLine(norms, index_phrases(lexicon.lists.get(LIST, ()))), calls):
            mark = _mark(talk, line.first, call, MAYBE)
            if not any(overlaps(one, mark) for one in counts):
                marks.append(mark)
    return tuple(marks)


def _mark(talk: Talk, offset: int, call: Call, kind: str) -> Mark:
    words = talk.words[offset + call.first : offset + call.last + 1]
    return Mark(
        kind=kind,
        first=offset + call.first,
        last=offset + call.last,
        start_ms=words[0].start_ms,
        end_ms=words[-1].end_ms,
        text=" ".join(word.text for word in words),
        ref=call.ref,
        value=call.value,
        weight=call.weight,
    )


def _with_counts(talk: Talk, mark: Mark, counts: tuple[Mark, ...]) -> Mark | None:
    """Drop a number that belongs to a count; "five more" just after one means repetitions."""
    if (
        mark.ref != "left"
        or {word.norm for word in talk.words[mark.first : mark.last + 1]} & UNITS.keys()
    ):
        return mark
    at = bisect_right([count.first for count in counts], mark.last) - 1
    if at < 0:
        return mark
    count = counts[at]
    is_bare = mark.first == mark.last
    if mark.last <= count.last and is_bare:
        return None
    if mark.first <= count.last or mark.start_ms - count.end_ms > _AFTER_COUNT_MS:
        return mark
    if is_bare and mark.first - count.last <= 2:
        return None
    return replace(mark, ref="reps", value=None) if mark.first - count.last <= 3 else mark
