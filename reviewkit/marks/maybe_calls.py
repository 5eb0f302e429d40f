"""Words that may be a claim of time left: too little alone, enough when the clock agrees.

"He's got all his fingers up so it's ten", "half the verse", "the middle is now": nothing
in the words tells these from a dose, a count or a place. They become marks of kind
``maybe_call`` with the same ``ref`` and ``value`` as time calls; ``findings/time_calls.py``
keeps those that come true, and the rest are never held against anybody. The likelier
words are to be something else (``weight``), the nearer they have to come.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from reviewkit.language.numbers import Number, find_lengths, find_numbers
from reviewkit.language.overlap import overlaps
from reviewkit.language.wordsets import word_set
from reviewkit.marks.call_line import ROUND_S, Call, CallLine, touches
from reviewkit.marks.half_calls import is_hour, share_calls

KIND = "maybe_call"
_SHORTEST_S = 5
_LONGEST_S = 180
# Numbers below are beats or repetitions, unless they are round, or alone in their line.
_LEAST_ODD = 6
_LEAST_ALONE = 4
_MOST_ODD = 60
# How likely words are a call: a half told of in few words, what may be a call, and what is
# mostly something else.
_LIKELY, _PLAIN, _FAINT = 1.0, 0.6, 0.2
# A number in running talk, which no pause parts from the rest, and no higher than this.
_BARE, _MOST_BARE = 0.1, 20
# A sign such as the sound of sticks, or halfway up a hill, is told of in few words.
_FEW_WORDS = 6
_CORRECTED_WITHIN = 7
# In a longer line these are mostly of a back or a foot.
_OF_BODIES = word_set("middle")
_PLACED, _PLACED_WITHIN = word_set("we we're us you're that's there's"), 6
# What an interval is never called, and how near the call it is named.
_CLASS_WITHIN = 7
_WHOLE = word_set("whole class workout session video programme program today total altogether")
_HALF_OF_THINGS = word_set("top bottom upper lower in by other front left right and a")


def maybe_calls(line: CallLine, claims: Sequence[Call]) -> Iterator[Call]:
    """Give what may be a claim in one line beside its plain ``claims``, in no order."""
    plain = [call for call in claims if call.ref != "reps"]
    numbers = tuple(_numbers(line))
    yield from numbers
    is_short = len(line.words) <= _FEW_WORDS
    for first, last in line.named("maybe_half").find(line.words):
        if not touches(Call(first, last, ""), plain) and not _is_amount(
            line, first, last, is_short=is_short
        ):
            weight = _FAINT if _is_of_bodies(line, first) else _PLAIN
            yield Call(first, last, "halfway", None, _LIKELY if is_short else weight)
    if is_short:
        for first, last in line.named("ten_sign").find(line.words):
            yield Call(first, last, "left", 10, _PLAIN)
    for label in ("share_left", "share_gone"):
        yield from (replace(call, weight=_PLAIN) for call in share_calls(line, label))
    unclaimed = (one for one in numbers if one.value in ROUND_S and not touches(one, plain))
    yield from _over(line, (*plain, *unclaimed))
    for call in plain:
        after = line.words[call.last + 1 : call.last + _CLASS_WITHIN]
        if call.ref == "class" and _WHOLE.isdisjoint(after):
            # "Halfway through the song" is about the interval where that is so.
            ref = "halfway" if call.value is None else "left"
            yield Call(call.first, call.last, ref, call.value, _PLAIN)


def _numbers(line: CallLine) -> Iterator[Call]:
    """Give every length, and every number that may be one and is not taken back."""
    lengths = find_lengths(line.words)
    for length in lengths:
        if _SHORTEST_S <= length.seconds <= _LONGEST_S:
            yield Call(length.first, length.last, "left", length.seconds, _PLAIN)
    numbers = find_numbers(line.words)
    for number in numbers:
        is_in_length = any(overlaps(a, number) for a in lengths)
        weight = 0.0 if is_in_length else _weight(line, number)
        if weight and not _is_taken_back(line, number, numbers):
            yield Call(number.first, number.last, "left", number.value, weight)


def _weight(line: CallLine, number: Number) -> float:
    """Tell how likely a bare number is seconds, 0 when it is beats or counts things."""
    is_round = number.value in ROUND_S
    is_alone = line.is_all_filled(number.first, number.last)
    least = _LEAST_ALONE if is_alone else _LEAST_ODD
    if not is_round and not least <= number.value <= _MOST_ODD:
        return 0.0
    is_left = any(line.after(label, number.last + 1) >= 0 for label in ("after", "rep_after"))
    counts = line.names_things(number.last + 1)
    if (is_round and not counts) or (not is_round and is_left):
        return _PLAIN
    if is_alone or len(line.words) <= _FEW_WORDS:
        return _FAINT
    is_bare = not is_round and not counts and number.value <= _MOST_BARE
    return _BARE if is_bare and not _is_told(line, number) else 0.0


def _is_told(line: CallLine, number: Number) -> bool:
    """Tell whether a number in running talk is a dose or belongs to a story."""
    after = number.last + 1
    return (
        line.is_before("dose_before", number.first)
        or line.after("dose_after", after) >= 0
        or line.is_story(number.first, after)
    )


def _is_taken_back(line: CallLine, number: Number, after: Sequence[Number]) -> bool:
    """Tell whether a correction and another number follow soon: "twenty, no, ten"."""
    later = next((one for one in after if one.first > number.last), None)
    if later is None or later.first - number.last > _CORRECTED_WITHIN:
        return False
    between = line.words[number.last + 1 : later.first]
    return bool(line.named("correct").find(between))


def _is_amount(line: CallLine, first: int, last: int, *, is_short: bool) -> bool:
    """Tell "top half", "half a squat" and "lift halfway up" from a half of the time.

    In a few words that begin so, "halfway up the hill" is the way that was come.
    """
    is_way = first == 0 and is_short
    return (
        line.word(first - 1) in _HALF_OF_THINGS
        or line.word(last + 1) in ("a", "an")
        or is_hour(line, last)
        or (line.after("position_after", last + 1) >= 0 and not is_way)
    )


def _is_of_bodies(line: CallLine, at: int) -> bool:
    """Tell "the middle of your back" from "we're in the middle"."""
    before = line.words[max(0, at - _PLACED_WITHIN) : at]
    return line.words[at] in _OF_BODIES and _PLACED.isdisjoint(before)


def _over(line: CallLine, calls: Sequence[Call]) -> Iterator[Call]:
    """Read a number the other way too: "twenty in", "we're at forty", "thirty on the board"."""
    for call in calls:
        is_open = call.ref == "left" and not _says_left(line, call)
        if is_open and call.value is not None and _may_be_over(line, call):
            yield Call(call.first, call.last, "gone", call.value, _PLAIN)


def _may_be_over(line: CallLine, call: Call) -> bool:
    """Tell whether words of time that is over lead to a call, stand in it or follow it."""
    over = line.named("maybe_gone")
    return bool(
        line.is_before("maybe_gone", call.first)
        or over.find(line.words[call.first : call.last + 1])
        or over.length_at(line.words, call.last + 1)
    )


def _says_left(line: CallLine, call: Call) -> bool:
    """Tell whether a call says in so many words that the time is left: "ten to go"."""
    ends = (at for at in range(call.first, call.last + 1) if line.after("after", at) == call.last)
    return any(not line.named("maybe_gone").length_at(line.words, at) for at in ends)
