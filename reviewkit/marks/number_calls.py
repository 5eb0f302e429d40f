"""Calls in bare numbers: "last ten", "twenty in the bank", "forty, no, thirty"."""

from __future__ import annotations

from collections.abc import Iterator

from reviewkit.language.numbers import Number, find_lengths, find_numbers
from reviewkit.language.overlap import overlaps
from reviewkit.marks.call_line import ROUND_S, Call, CallLine, about_class

_CORRECTED_WITHIN = 7
_ANSWERED_WITHIN = 7
# "Five in and five out" is a breath.
_BREATH = 3
# A number up to here that stands alone is as likely one of a count.
_BEATS = 5


def number_calls(line: CallLine) -> Iterator[Call]:
    """Give the calls of one line that are numbers without a unit, in order."""
    lengths = find_lengths(line.words)
    numbers = find_numbers(line.words)
    for number in _joined_clock(line, numbers):
        if any(overlaps(a, number) for a in lengths):
            continue
        call = None if _is_counted(numbers, number) else _number_call(line, number)
        call = call or _guess(line, number)
        if call is not None:
            yield about_class(line, call)


def _joined_clock(line: CallLine, numbers: tuple[Number, ...]) -> Iterator[Number]:
    """Join "one thirty left" into ninety; other numbers stay."""
    skip = False
    for index, number in enumerate(numbers):
        nxt = numbers[index + 1] if index + 1 < len(numbers) else None
        if skip:
            skip = False
        elif (
            nxt is not None
            and number.value in (1, 2)
            and nxt.first == number.last + 1
            and nxt.value in ROUND_S
            and nxt.value < 60
            and line.after("after", nxt.last + 1) >= 0
        ):
            skip = True
            yield Number(number.first, nxt.last, 60 * number.value + nxt.value)
        else:
            yield number


def _is_counted(numbers: tuple[Number, ...], number: Number) -> bool:
    """Tell whether a number is one of a count ("eight nine ten", "six more five more")."""
    near = (other for other in numbers if other != number and abs(other.first - number.first) <= 2)
    return any(abs(other.value - number.value) == 1 for other in near)


def _number_call(line: CallLine, number: Number) -> Call | None:
    """Read a bare number: time left or gone when the words around say so."""
    is_odd = number.value not in ROUND_S and number.value <= 60
    if is_odd:
        return _odd_call(line, number)
    before, after = number.first, number.last + 1
    lead = line.named("before").length_before(line.words, before)
    first = before - lead
    left = line.after("after", after)
    gone = line.after("gone", after)
    if left >= 0:
        return _left_after(line, Call(first, left, "left", number.value))
    if line.names_things(after):
        return None
    if _corrects(line, number):
        return Call(first, number.last, "left", number.value)
    if line.is_story(before, after):
        return None
    if gone >= 0:
        return Call(first, gone, "gone", number.value)
    if (
        line.is_before("gone_lead", before)
        and number.value > _BEATS
        and line.closes_after(number.last)
    ):
        return Call(first, number.last, "gone", number.value)
    if line.after("dose_after", after) >= 0:
        return None
    is_last = line.word(first) in ("last", "final")
    is_led = (lead > 0 and not _is_plain_dose(line, before)) or _answers(line, before)
    is_led = is_led and line.closes_after(number.last)
    is_alone = number.value > _BEATS and _stands_alone(line, number)
    if is_last or is_led or is_alone:
        return Call(first, number.last, "left", number.value)
    return None


def _odd_call(line: CallLine, number: Number) -> Call | None:
    """Read "seven to go" as seconds; up to five, and with "more", it means repetitions."""
    left = line.after("after", number.last + 1)
    said = line.words[number.last + 1 : left + 1]
    is_time = said in (("to", "go"), ("left",), ("remaining",), ("left", "to", "go"))
    if left < 0 or not is_time or number.value <= 5 or not line.closes_after(left):
        return None
    return Call(number.first, left, "left", number.value)


def _guess(line: CallLine, number: Number) -> Call | None:
    """Read "nine eight something like that", a line of a number or two and a doubt."""
    last = line.after("hedge", number.last + 1)
    if last < 0 or number.value <= _BEATS:
        return None
    first = find_numbers(line.words[: number.last + 1])[0].first
    return Call(first, last, "left", number.value) if line.is_all_filled(first, last) else None


def _stands_alone(line: CallLine, number: Number) -> bool:
    """Tell whether a line says the number and nothing else, or closes by repeating it."""
    if line.is_all_filled(number.first, number.last):
        return True
    is_end = number.last == len(line.words) - 1
    return is_end and len(line.words) <= 5 and line.words[0] == line.words[-1]


def _corrects(line: CallLine, number: Number) -> bool:
    """Tell whether a number takes back an earlier one: "ten, no, he's showing me five"."""
    correct = line.named("correct")
    reach = range(max(0, number.first - _CORRECTED_WITHIN), number.first)
    taken_back = next((at for at in reach if correct.length_at(line.words, at)), -1)
    earlier = find_numbers(line.words[: max(0, taken_back)])
    if not earlier or line.is_before("dose_before", earlier[-1].first):
        return False
    return line.closes_after(number.last)


def _answers(line: CallLine, at: int) -> bool:
    """Tell whether a question for the time left stands before: "how long, well, thirty"."""
    asks = line.named("asks").find(line.words[max(0, at - _ANSWERED_WITHIN) : at])
    return bool(asks) and not line.is_before("dose_before", at)


def _is_plain_dose(line: CallLine, at: int) -> bool:
    return line.word(at - 1) in ("for", "hold", "every", "to", "about", "around", "got", "have")


def _left_after(line: CallLine, call: Call) -> Call | None:
    """Check what follows "ten more": things counted are no time."""
    if line.word(call.last) == "more" and line.names_things(call.last + 1):
        return None
    follows = line.word(call.last + 1)
    if line.word(call.last) in ("up", "still", "out", "yet") and follows:
        return None
    if (
        line.word(call.last) == "out"
        and "in" in line.words[max(0, call.first - _BREATH) : call.first]
    ):
        return None
    return call
