"""Calls of how far the class has come: "that was set one of three", "two rounds down".

They count repetitions, sets or rounds and claim no seconds. A number counts when a word
for what is done stands by it ("rounds", "sets", "laps"), or words that lead to one
("you've done four", "that's eight so two more").
"""

from __future__ import annotations

from collections.abc import Iterator

from reviewkit.language.numbers import Number, find_numbers
from reviewkit.language.wordsets import word_set
from reviewkit.marks.call_line import Call, CallLine

REF = "reps"
# Nobody counts more of anything aloud.
_MOST = 40
_OF_THESE = word_set("the your our my those these them this each it")
# "That's eight so two more", "that's eight that's your lot": what follows a count.
_FOLLOWS = word_set("and so then with that that's leaves now already all gone done down another")
_LEADS = ("so_far", "that_is", "this_is")
_LONG_AGO = word_set(
    "months month weeks week years year days day hours nights times people classes"
)
# "Ten to the left" is a side, "up the last hill" no call.
_SIDE_NEXT = word_set("the your our my")
_IS = word_set("is it's that's this are now on into that was")
# A line of so few words that begins with "last" says no more than that.
_FEW_WORDS = 4
_LASTS = word_set("last final penultimate")


def done_calls(line: CallLine) -> Iterator[Call]:
    """Give the calls of one line that count what is over or how much of it; they may overlap."""
    numbers = [one for one in find_numbers(line.words) if one.value <= _MOST]
    counted = [(one, "so_far", "that_is") for one in numbers]
    # "This is the third" says how many; "this is three" may say anything.
    ordinals = [Number(first, last, 0) for first, last in line.named("ordinal").find(line.words)]
    counted += [(one, "this_is", "that_is") for one in ordinals]
    for number, *leads in counted:
        end = max(
            _of_many(line, number),
            _done(line, number),
            _still_left(line, number),
            _led(line, number, leads),
        )
        if end >= 0 and not _is_told(line, number.first, end):
            yield Call(number.first, end, REF)
    yield from _last_of_kind(line)


def _of_many(line: CallLine, number: Number) -> int:
    """Give where "set one of three" or "the first of your eight runs" ends, else -1."""
    is_named = _unit_before(line, number) or line.is_before("that_is", number.first)
    return _whole(line, _unit_end(line, number)) if is_named else -1


def _done(line: CallLine, number: Number) -> int:
    """Give where "two rounds down" or "six of those done" ends, else -1."""
    unit = _unit_end(line, number)
    end = max(unit, _whole(line, unit))
    return line.after("gone", end + 1) if end > number.last else -1


def _still_left(line: CallLine, number: Number) -> int:
    """Give where "three floors to go" or "ten more hops" ends, else -1."""
    at = number.last + 1
    is_more = line.word(at) == "more"
    unit = line.after("counted", at + is_more)
    if is_more and unit >= 0 and line.closes_after(unit):
        return unit
    for named in (unit, at, at + 1):
        if (
            named >= at
            and line.word(named) not in _SIDE_NEXT
            and (end := line.after("still_left", named + 1)) >= 0
        ):
            return end if line.closes_after(end) else -1
    return -1


def _led(line: CallLine, number: Number, leads: list[str]) -> int:
    """Give where a count ends that words lead to: "you've done four", "that was number four"."""
    end = _unit_end(line, number)
    before = number.first - _unit_before(line, number)
    if not any(line.is_before(lead, before) for lead in leads):
        return -1
    if before < number.first or end > number.last or line.is_before("so_far", before):
        return -1 if end == number.last and line.names_things(end + 1) else end
    is_open = number.value == 1 and end + 1 < len(line.words)
    follows = line.word(end + 1)
    is_count = not follows or follows in _FOLLOWS or line.after("gone", end + 1) >= 0
    return end if is_count and not is_open else -1


def _last_of_kind(line: CallLine) -> Iterator[Call]:
    """Find "final climb", "last two laps", "last ten" and a whole line of "last flight lads"."""
    for at, word in enumerate(line.words):
        if word not in _LASTS or (line.word(at - 1) == "the" and line.word(at - 2) not in _IS):
            continue
        after = next((one for one in find_numbers(line.words) if one.first == at + 1), None)
        end = line.after("counted", (after.last if after else at) + 1)
        if end < 0 and after and line.word(after.last + 1) not in _LONG_AGO:
            end = after.last
        if end < 0 and at == 0 and 1 < len(line.words) <= _FEW_WORDS:
            end = 1
        if end >= 0 and not line.is_story(at, end + 1):
            yield Call(at, end, REF)


def _is_told(line: CallLine, first: int, last: int) -> bool:
    """Tell whether a count stands in a story; "that was" and "we've had" alone tell none."""
    unit = line.named("counted").length_before(line.words, first)
    leads = (line.named(lead).length_before(line.words, first - unit) for lead in _LEADS)
    led = first - unit - max(leads)
    return CallLine((*line.words[:led], *line.words[first:]), line.lists).is_story(
        led, last + 1 - first + led
    )


def _unit_before(line: CallLine, number: Number) -> int:
    """Give how many words of "set" or "round number" stand before a number."""
    return line.named("counted").length_before(line.words, number.first)


def _unit_end(line: CallLine, number: Number) -> int:
    """Give the last word of a number with what it counts."""
    return max(number.last, line.after("counted", number.last + 1))


def _whole(line: CallLine, last: int) -> int:
    """Give where "of four", "of your eight runs" or "out of six" ends behind a word, else -1."""
    at = last + 1 + (line.word(last + 1) == "out")
    if line.word(at) != "of":
        return -1
    words = line.words[at + 1 :]
    at += 1 + (words[:1] != () and words[0] in _OF_THESE)
    number = next((one for one in find_numbers(line.words) if one.first == at), None)
    if number is not None:
        return _unit_end(line, number)
    unit = line.after("counted", at)
    # "One of those days" counts none.
    is_whole = words[:1] != () and words[0] in _OF_THESE and not line.names_things(at)
    return unit if unit >= 0 else at - 1 if is_whole else -1
