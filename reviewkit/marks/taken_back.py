"""Hear a coach own up to a number that was said before: "I know I said four, three is plenty".

The number that was said is the mark's value; what it became, where that is said beside it,
its ``ref``. Read word by word over the whole talk, as captions have no full stops.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, takewhile

from reviewkit.language.numbers import number_value
from reviewkit.language.wordsets import word_set
from reviewkit.marks.promise_tokens import Token, read_tokens
from reviewkit.model import Mark, Talk

KIND = "taken_back"
_SAID = word_set("said told promised meant say")
_WHO = word_set("i we")
# Between who said it and that it was said: "I did say", "I know I only said".
_STRESS = word_set("did do only had have definitely know")
# Before who said it: stories, and what was said a moment ago and holds.
_STORY = word_set("when as like what who than why how because if which")
_THEN = word_set("and then so")
# "I did say", but no "I say".
_SAY, _DID = "say", "did"
# Behind what was said: to whom it was, in a story.
_TO_OTHERS = word_set("to him her them son my that that's")
_KNOWS, _KNOWS_WITHIN = word_set("know ken"), 4
# What was said and holds: "and I meant it", "and I've kept my word".
_HOLDS = (("meant", "it"), ("mean", "it"), ("kept", "my"))
# How far the number stands behind the words that say it was said, and what ends the search.
_NUMBER_WITHIN = 5
_STOPS = word_set("but so because i it's we")
# What turns a number round, so soon behind it.
_TURNS = word_set(
    "but didn't well lied sorry instead plenty enough forgive changed scrap actually giving make "
    "making call can't however though rather wrong meant not forgot dropped became become"
)
_NO_TOTAL = word_set("more left to")
_TURNS_WITHIN, _BECAME_BEFORE, _BECAME_BEHIND = 8, 7, 12


def find_taken_back(talk: Talk) -> tuple[Mark, ...]:
    """Mark every number that the coach owns to have said before, in the order spoken.

    ``value`` is that number, of lengths in seconds; ``ref`` is ``length`` or ``count``, with
    what it became behind a blank where that is told: ``count 3``.
    """
    tokens = read_tokens([word.norm for word in talk.words])
    marks = []
    for at, token in enumerate(tokens):
        number = _number(tokens, at) if token.text in _SAID else None
        if number is None or not _is_of_coach(tokens, at) or _holds(tokens, number):
            continue
        if not _is_turned(tokens, at, number):
            continue
        became = _became(tokens, at, number)
        first, last = tokens[max(0, at - 2)].first, tokens[number].last
        what = "length" if tokens[number].is_length else "count"
        marks.append(
            Mark(
                KIND,
                first,
                last,
                talk.words[first].start_ms,
                talk.words[last].end_ms,
                " ".join(word.text for word in talk.words[first : last + 8]),
                ref=what if became is None else f"{what} {became:g}",
                value=tokens[number].value,
            )
        )
    return tuple(marks)


def _number(tokens: Sequence[Token], at: int) -> int | None:
    """Give the place of the number that was said, close behind."""
    for place in range(at + 1, min(len(tokens), at + 1 + _NUMBER_WITHIN)):
        if tokens[place].is_amount:
            return None if _is_counted_down(tokens, place) else place
        if tokens[place].text in _STOPS or tokens[place].text in _TO_OTHERS:
            return None
    return None


def _is_counted_down(tokens: Sequence[Token], at: int) -> bool:
    """Tell "three, two, one" from a number that was promised."""
    following = tokens[at + 1 : at + 2]
    return any(one.is_number and tokens[at].value - one.value == 1 for one in following)


def _is_of_coach(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether it was the coach who said so to this class, and not one in a story."""
    if tokens[at].text == _SAY and tokens[at - 1].text != _DID:
        return False
    who = at - 1
    while who > 0 and tokens[who].text in _STRESS and at - who <= 2:
        who -= 1
    if who < 0 or tokens[who].text not in _WHO:
        return False
    before = tokens[who - 1].text if who else ""
    knows = _knows(tokens, who)
    return before not in _STORY and (knows or before not in _THEN or tokens[at].text != "said")


def _holds(tokens: Sequence[Token], number: int) -> bool:
    """Tell whether what was said is said to hold: "we said two, and two's plenty"."""
    behind = [token.text for token in tokens[number + 1 : number + 1 + _TURNS_WITHIN]]
    again = (number_value([text.removesuffix("'s")]) for text in behind)
    is_same = tokens[number].text in behind or tokens[number].value in again
    return is_same or any(pair in _HOLDS for pair in pairwise(behind))


def _knows(tokens: Sequence[Token], who: int) -> bool:
    near = tokens[max(0, who - _KNOWS_WITHIN) : who]
    return any(token.text in _KNOWS for token in near)


def _is_turned(tokens: Sequence[Token], at: int, number: int) -> bool:
    """Tell whether what was said is owned up to, or turned round soon after."""
    behind = tokens[number + 1 : number + 1 + _TURNS_WITHIN]
    return _knows(tokens, at) or any(token.text in _TURNS for token in behind)


def _became(tokens: Sequence[Token], at: int, number: int) -> float | None:
    """Give the number that it became: the next of its sort behind it, or the last before it."""
    behind = list(range(number + 1, min(len(tokens), number + 1 + _BECAME_BEHIND)))
    before = takewhile(
        lambda place: tokens[place].text != "but",
        range(at - 1, max(-1, at - 1 - _BECAME_BEFORE), -1),
    )
    said = tokens[number]
    for place in [*behind, *before]:
        token = tokens[place]
        following = tokens[place + 1].text if place + 1 < len(tokens) else ""
        is_alike = token.is_amount and token.text[:2] == said.text[:2]
        if is_alike and token.value != said.value and following not in _NO_TOTAL:
            return token.value
    return None
