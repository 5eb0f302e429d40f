"""Words that may be a claim of time left: too little alone, enough when the clock agrees.

"He's got all his fingers up so it's ten", "half the verse", "the middle is now": nothing
in the words tells these from a dose, a count or a place. They become marks of kind
``maybe_call`` with the same ``ref`` and ``value`` as time calls; ``findings/time_calls.py``
keeps those that come true, and the rest are never held against anybody.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reviewkit.language.numbers import Number, find_lengths, find_numbers
from reviewkit.language.wordsets import word_set
from reviewkit.marks.call_line import ROUND_S, Call, CallLine
from reviewkit.marks.half_calls import share_calls

KIND = "maybe_call"
_SHORTEST_S = 5
_LONGEST_S = 180
# A sign such as the sound of sticks is told of in few words.
_SIGN_WORDS = 6
_CORRECTED_WITHIN = 7
_HALF_OF_THINGS = word_set("top bottom upper lower in by other back front left right and a your")


def maybe_calls(line: CallLine, claims: Sequence[Call]) -> Iterator[Call]:
    """Give what may be a claim in one line beside its plain ``claims``, in no order."""
    plain = [call for call in claims if call.ref != "reps"]
    yield from _numbers(line)
    for first, last in line.named("maybe_half").find(line.words):
        is_plain = any(first <= call.last and call.first <= last for call in plain)
        if not is_plain and not _is_amount(line, first, last):
            yield Call(first, last, "halfway")
    if len(line.words) <= _SIGN_WORDS:
        for first, last in line.named("ten_sign").find(line.words):
            yield Call(first, last, "left", 10)
    yield from share_calls(line, "share_gone")
    yield from _counting_up(line, plain)


def _numbers(line: CallLine) -> Iterator[Call]:
    """Give every length, and every round number that counts no things and is not taken back."""
    lengths = find_lengths(line.words)
    for length in lengths:
        if _SHORTEST_S <= length.seconds <= _LONGEST_S:
            yield Call(length.first, length.last, "left", length.seconds)
    numbers = find_numbers(line.words)
    for number in numbers:
        if number.value not in ROUND_S or line.names_things(number.last + 1):
            continue
        is_in_length = any(a.first <= number.last and number.first <= a.last for a in lengths)
        if not is_in_length and not _is_taken_back(line, number, numbers):
            yield Call(number.first, number.last, "left", number.value)


def _is_taken_back(line: CallLine, number: Number, after: Sequence[Number]) -> bool:
    """Tell whether a correction and another number follow soon: "twenty, no, ten"."""
    later = next((one for one in after if one.first > number.last), None)
    if later is None or later.first - number.last > _CORRECTED_WITHIN:
        return False
    between = line.words[number.last + 1 : later.first]
    return bool(line.named("correct").find(between))


def _is_amount(line: CallLine, first: int, last: int) -> bool:
    """Tell "top half", "half a squat" and "halfway up" from a half of the time."""
    return (
        line.word(first - 1) in _HALF_OF_THINGS
        or line.word(last + 1) in ("a", "an")
        or line.after("position_after", last + 1) >= 0
    )


def _counting_up(line: CallLine, claims: Sequence[Call]) -> Iterator[Call]:
    """Read "forty on the clock" the other way too: some clocks count up."""
    for call in claims:
        shows = line.named("clock").find(line.words[call.first : call.last + 1])
        if call.ref == "left" and call.value is not None and shows:
            yield Call(call.first, call.last, "gone", call.value)
