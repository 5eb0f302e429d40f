"""Claims about the time left: "halfway", "ten seconds", "twenty in the bank", "two more".

A mark of kind ``time_call`` has ``ref``

* ``left``: ``value`` seconds are left;
* ``gone``: ``value`` seconds are over, the rest of the plan is left;
* ``halfway``: half of the interval is left (no value);
* ``class``: about the workout rather than the interval (``value`` when one was said);
* ``reps``: repetitions, rounds or "nearly there", no claim in seconds.

Left alone: planned doses ("hold for thirty"), tempo, counts, angles, weights, dates. A
coach who corrects himself ("ten, no, five seconds") is held to the last number.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import replace

from reviewkit.lines import split_lines
from reviewkit.marks.call_line import Call, CallLine, about_class
from reviewkit.marks.counts import find_counts
from reviewkit.marks.half_calls import half_calls
from reviewkit.model import Lexicon, Mark, Talk
from reviewkit.numbers import UNITS, Length, Number, find_lengths, find_numbers
from reviewkit.phrase_index import index_phrases
from reviewkit.wordsets import word_set

KIND = "time_call"
LIST = "time_calls"
# Bare numbers that coaches call as seconds; others are repetitions or beats.
_ROUND = frozenset((5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 90, 120))
# Nouns that do not end in s and still say what a number counts.
_COUNTED = word_set("each people men women children percent kilo kilos pound pounds degree reps")
_NOT_PLURAL = word_set(
    "this is yes us seconds secs ticks minutes mins let's that's it's there's here's guys folks "
    "always was has as its perhaps ladies legends boys girls friends class"
)
_STORY = word_set(
    "was were had said told took when ago years year weeks people came cost costs bought waited "
    "he she he's she's pounds quid euros dollars o'clock percent train bus video ferry"
)
_LONGEST_CLAIM_S = 600
# Shorter lengths without a word such as "left" are tempo: "three seconds down".
_SHORTEST_BARE_S = 5
_STRONG = ("last", "final", "another", "still", "only", "rests")
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
    claims = sorted((*_length_calls(line), *_number_calls(line), *half_calls(line)), key=_place)
    claims = _settle(line, claims)
    for call in sorted(_loose_calls(line), key=_place):
        if not _touches(call, claims):
            claims.append(call)
    return tuple(sorted(claims, key=_place))


def _place(call: Call) -> tuple[int, int]:
    return call.first, call.last


def _touches(call: Call, others: Sequence[Call]) -> bool:
    return any(call.first <= other.last and other.first <= call.last for other in others)


# --- numbers with a unit -------------------------------------------------------------


def _length_calls(line: CallLine) -> Iterator[Call]:
    for length in find_lengths(line.words):
        if length.seconds > _LONGEST_CLAIM_S:
            continue
        call = _length_call(line, length)
        if call is not None:
            yield about_class(line, call)


def _length_call(line: CallLine, length: Length) -> Call | None:
    """Read a length as time left or gone; None for a dose, a story or a rest."""
    before, after = length.first, length.last + 1
    first = before - line.named("before").length_before(line.words, before)
    left = line.after("after", after, skip=2)
    is_more = bool({"more", "another", "left"} & set(line.words[first:after]))
    if left >= 0:
        return Call(first, left, "left", length.seconds)
    if set(line.words) & _STORY or line.word(after) in ("rest", "off", "break", "recovery"):
        return None
    if line.words[first] in _STRONG or is_more:
        return Call(first, length.last, "left", length.seconds)
    if line.after("dose_after", after) >= 0 or line.words[after:] == ("on",):
        return None
    gone = line.after("gone", after, skip=1)
    if gone >= 0 and length.seconds >= _SHORTEST_BARE_S:
        return Call(first, gone, "gone", length.seconds)
    if line.is_before("gone_before", before) and length.seconds == 30 and "half" in line.words:
        return Call(first, length.last, "gone", length.seconds)
    if first < before:
        return Call(first, length.last, "left", length.seconds)
    if line.is_before("dose_before", before) or length.seconds < _SHORTEST_BARE_S:
        return None
    return Call(first, length.last, "left", length.seconds)


# --- bare numbers --------------------------------------------------------------------


def _number_calls(line: CallLine) -> Iterator[Call]:
    lengths = find_lengths(line.words)
    numbers = find_numbers(line.words)
    for number in _joined_clock(line, numbers):
        if any(a.first <= number.last and number.first <= a.last for a in lengths):
            continue
        call = _number_call(line, number)
        if call is not None and not _is_counted(numbers, number, call):
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
            and nxt.value in _ROUND
            and nxt.value < 60
            and line.after("after", nxt.last + 1) >= 0
        ):
            skip = True
            yield Number(number.first, nxt.last, 60 * number.value + nxt.value)
        else:
            yield number


def _is_counted(numbers: tuple[Number, ...], number: Number, call: Call) -> bool:
    """Tell whether a number is one of a count ("eight nine ten") and no call."""
    if call.last > number.last or call.first < number.first:
        return False
    near = (other for other in numbers if other != number and abs(other.first - number.first) <= 2)
    return any(abs(other.value - number.value) == 1 for other in near)


def _names_things(line: CallLine, at: int) -> bool:
    """Tell whether the word says what is counted: "five more people", "last four dips"."""
    word = line.word(at)
    return word in _COUNTED or (
        word.endswith("s") and not word.endswith("ss") and word not in _NOT_PLURAL
    )


def _number_call(line: CallLine, number: Number) -> Call | None:
    """Read a bare number: time left or gone when the words around say so."""
    is_odd = number.value not in _ROUND and number.value <= 60
    if is_odd:
        return _odd_call(line, number)
    before, after = number.first, number.last + 1
    lead = line.named("before").length_before(line.words, before)
    first = before - lead
    left = line.after("after", after)
    gone = line.after("gone", after)
    if set(line.words) & _STORY:
        return None
    if left >= 0:
        return _left_after(line, Call(first, left, "left", number.value))
    if _names_things(line, after):
        return None
    if gone >= 0:
        return Call(first, gone, "gone", number.value)
    if line.after("dose_after", after) >= 0:
        return None
    is_last = line.word(first) in ("last", "final") or _corrects(line, number)
    is_led = lead > 0 and line.closes_after(number.last) and not _is_plain_dose(line, before)
    if is_last or is_led or _stands_alone(line, number):
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


def _stands_alone(line: CallLine, number: Number) -> bool:
    """Tell whether a line says the number and nothing else, or closes by repeating it."""
    if line.is_all_filled(number.first, number.last):
        return True
    is_end = number.last == len(line.words) - 1
    return is_end and len(line.words) <= 5 and line.words[0] == line.words[-1]


def _corrects(line: CallLine, number: Number) -> bool:
    """Tell whether a number takes back an earlier one: "ten, no, it's five"."""
    correct = line.named("correct")
    at = number.first
    while at > 0 and line.named("fill").length_at(line.words, at - 1):
        at -= 1
    taken_back = max(
        (i for i in range(number.first) if correct.length_at(line.words, i) and i >= at - 4),
        default=-1,
    )
    earlier = find_numbers(line.words[: max(0, taken_back)])
    return bool(earlier) and line.closes_after(number.last)


def _is_plain_dose(line: CallLine, at: int) -> bool:
    return line.word(at - 1) in ("for", "hold", "every", "to", "about", "around", "got", "have")


def _left_after(line: CallLine, call: Call) -> Call | None:
    """Check what follows "ten more": things counted are no time."""
    if line.word(call.last) == "more" and _names_things(line, call.last + 1):
        return None
    follows = line.word(call.last + 1)
    if line.word(call.last) in ("up", "still", "out", "yet") and follows:
        return None
    return call


# --- without a claim -----------------------------------------------------------------


def _loose_calls(line: CallLine) -> Iterator[Call]:
    """Find repetitions left and "nearly there": calls that claim no seconds."""
    for label, ref in (("rep", "reps"), ("soon", "reps")):
        for first, last in line.named(label).find(line.words):
            if not set(line.words) & _STORY:
                yield Call(first, last, ref)
    for number in find_numbers(line.words):
        end = line.after("rep_after", number.last + 1)
        is_story = bool(set(line.words) & _STORY)
        if end >= 0 and number.value <= 30 and number.value not in _ROUND and not is_story:
            yield Call(number.first, end, "reps")


# --- one claim a line ----------------------------------------------------------------


def _settle(line: CallLine, claims: list[Call]) -> list[Call]:
    """Keep one claim of those that correct, repeat or complete one another."""
    kept: list[Call] = []
    for call in claims:
        if kept and _touches(call, kept[-1:]):
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
        norms = [word.norm for word in talk.words[line.first : line.last + 1]]
        for call in read_calls(norms, lexicon):
            mark = _mark(talk, line.first, call)
            heard = _with_counts(talk, mark, counts)
            if heard is not None:
                marks.append(heard)
    return tuple(marks)


def _mark(talk: Talk, offset: int, call: Call) -> Mark:
    words = talk.words[offset + call.first : offset + call.last + 1]
    return Mark(
        kind=KIND,
        first=offset + call.first,
        last=offset + call.last,
        start_ms=words[0].start_ms,
        end_ms=words[-1].end_ms,
        text=" ".join(word.text for word in words),
        ref=call.ref,
        value=call.value,
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
    if mark.last <= count.last or mark.start_ms - count.end_ms > _AFTER_COUNT_MS:
        return mark
    if is_bare and mark.first - count.last <= 2:
        return None
    return replace(mark, ref="reps", value=None) if mark.first - count.last <= 3 else mark
