"""A coach by hand: counts in, talks, counts out and rests, to the second.

``Stint`` says what was done, ``class_talk`` gives the words of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from reviewkit.model import Clock, Plan, PlanRow, Talk, Word

WORD_MS = 300
NUMBER_MS = 1000

_INTRO = "hello everyone and welcome grab some water and find some space for today"
_WORK = (
    "chest up nice and tall",
    "push the floor away",
    "that is lovely keep it going",
    "knees follow the toes",
    "breathe out as you come up",
    "strong in the middle",
    "stay with me you have this",
    "slow on the way down",
)
_REST = ("shake it out", "have a sip of water", "well done that was hard work", "nice job")


@dataclass(frozen=True)
class Stint:
    """An interval as it was really done; ``move`` is what the coach calls it."""

    start_s: float
    end_s: float
    move: str = ""
    is_counted: bool = True
    is_named_twice: bool = False


def even(count: int, *, work_s: float, rest_s: float, first_s: float = 20.0) -> list[Stint]:
    """Give intervals of one length with one rest between them."""
    step_s = work_s + rest_s
    return [
        Stint(first_s + step_s * at, first_s + step_s * at + work_s, MOVES[at % len(MOVES)])
        for at in range(count)
    ]


MOVES = ("Squat", "Press-up", "Plank", "Glute bridge", "Reverse lunge")


def plan_of(count: int, *, work_s: float, rest_s: float) -> Plan:
    """Plan the moves in turn."""
    rows = tuple(
        PlanRow(
            MOVES[at % len(MOVES)], round(1000 * work_s), round=1 + at // len(MOVES),
            rest_ms=round(1000 * rest_s),
        )
        for at in range(count)
    )  # fmt: skip
    return Plan("plan.csv", rows)


def class_talk(
    stints: Sequence[Stint],
    *,
    clock: Clock = "words",
    spread_ms: int = 0,
    announced_s: float = 9,
) -> Talk:
    """Say a whole class: an introduction, every interval and a goodbye.

    ``announced_s`` is how long before its start a move is named.
    """
    said: list[tuple[float, str, int]] = [(1.0, _INTRO, WORD_MS)]
    free_s = 6.0
    for at, one in enumerate(stints):
        if free_s + 8 < one.start_s - 4:
            said.append((free_s + 2, _REST[at % len(_REST)], WORD_MS))
        if one.move and free_s + announced_s + 3 < one.start_s:
            said.append((one.start_s - announced_s, f"next up {one.move.lower()}", WORD_MS))
        said += _during(one, at)
        free_s = one.end_s
    said.append((free_s + 2.5, "well done everybody thank you for coming see you soon", WORD_MS))
    words = [word for start_s, text, step_ms in said for word in _say(start_s, text, step_ms)]
    words.sort(key=lambda word: word.start_ms)
    spread = tuple(_unsure(word, spread_ms) for word in words)
    return Talk(spread, clock, spread_ms, words[-1].end_ms + 1000)


def _during(one: Stint, turn: int) -> Iterable[tuple[float, str, int]]:
    if one.is_counted:
        yield one.start_s - 3, "three two one", NUMBER_MS
        yield one.end_s - 3, "three two one", NUMBER_MS
    yield one.start_s, "go" if one.is_counted else "and off we go", WORD_MS
    if one.is_named_twice:
        yield one.start_s + 1, f"this is your {one.move.lower()}", WORD_MS
    at_s = one.start_s + 4
    phrase = turn
    while at_s + 3 < one.end_s - 4:
        yield at_s, _WORK[phrase % len(_WORK)], WORD_MS
        at_s, phrase = at_s + 3.5, phrase + 1
    yield one.end_s, "and rest", WORD_MS


def _say(start_s: float, text: str, step_ms: int) -> Iterable[Word]:
    for at, part in enumerate(text.split()):
        start_ms = round(1000 * start_s) + at * step_ms
        yield Word(part, part, start_ms, start_ms + WORD_MS - 50, 0)


def _unsure(word: Word, spread_ms: int) -> Word:
    return Word(word.text, word.norm, word.start_ms, word.end_ms, spread_ms)
