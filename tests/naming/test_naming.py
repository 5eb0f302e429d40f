from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from reviewkit.model import UNNAMED, Interval, Mark, MoveEvidence, Talk, Word
from reviewkit.naming import SWAP_WEIGHTS, name_moves
from reviewkit.read import read_lexicon
from tests.findings.classes import Row, interval

TALK = Talk(
    tuple(Word("so", "so", 500 * at, 500 * at + 300, 0) for at in range(400)), "words", 0, 200_000
)
MOVES = ("Squat", "Row")
WEIGHTS = read_lexicon().weights[SWAP_WEIGHTS]
SQUAT, ROW = interval(Row("Squat", 20), 1), interval(Row("Row", 80), 2)
ADDED = replace(
    interval(Row("", 140), 3), id="added-3", plan_row=None, status="added", move="", timing=None
)


def silent() -> MoveEvidence:
    nothing = ((0.0,) * len(TALK.words),) * len(MOVES)
    none = (0.0,) * len(TALK.words)
    return MoveEvidence(MOVES, nothing, nothing, sides=(0,) * len(TALK.words), unplanned=none)


def mention(at_s: float, name: str, *, is_planned: bool = False, weight: float = 1.0) -> Mark:
    word = round(2 * at_s)
    at_ms = round(1000 * at_s)
    return Mark(
        "move", word, word, at_ms, at_ms + 300, name, name, 1.0 if is_planned else 0.0, weight
    )


def call(at_s: float, weight: float = 1.0) -> Mark:
    word, at_ms = round(2 * at_s), round(1000 * at_s)
    return Mark("swap_call", word, word, at_ms, at_ms + 300, "change of plan", "swap", None, weight)


def named(
    intervals: Sequence[Interval], mentions: Sequence[Mark] = (), calls: Sequence[Mark] = ()
) -> tuple[Interval, ...]:
    return name_moves(intervals, TALK, (*mentions, *calls), silent(), WEIGHTS)


def test_nothing_heard_changes_nothing() -> None:
    assert named([SQUAT, ROW]) == (SQUAT, ROW)
    assert named([]) == ()


def test_the_planned_name_changes_nothing() -> None:
    heard = [mention(15, "Squat", is_planned=True), mention(75, "Row", is_planned=True)]
    assert named([SQUAT, ROW], heard) == (SQUAT, ROW)


def test_another_name_alone_is_no_swap() -> None:
    """Coaches compare moves: "like in a lunge"."""
    assert named([SQUAT, ROW], [mention(15, "Lunge", weight=0.6)])[0].status == "done"


def test_giving_a_move_away_for_another_is_a_swap() -> None:
    swapped, row = named([SQUAT, ROW], [mention(16, "Lunge")], [call(13)])
    assert (swapped.status, swapped.done_instead) == ("swapped", "Lunge")
    assert swapped.move == "Squat"
    assert row == ROW


@pytest.mark.parametrize("length_s", [15, 60])
def test_another_move_for_another_time_is_added_and_the_row_left_out(length_s: float) -> None:
    short = interval(Row("Squat", 20, length_s=length_s), 1)
    added, left_out, row = named([short, ROW], [mention(16, "Lunge")], [call(13)])
    assert (left_out.status, left_out.move, left_out.start) == ("skipped", "Squat", None)
    assert (added.status, added.move, added.plan_row) == ("added", "Lunge", None)
    assert (added.start, added.end) == (short.start, short.end)
    assert row == ROW


def test_a_trade_of_two_that_are_heard_stays_one() -> None:
    row, squat = interval(Row("Row", 20), 2), interval(Row("Squat", 80), 1)
    heard = (mention(16, "Row", is_planned=True), mention(75, "Squat", is_planned=True))
    found = name_moves([row, squat], TALK, heard, silent(), WEIGHTS)
    assert [one.status for one in found] == ["done", "done"]


def test_what_is_said_long_before_or_after_is_of_another_interval() -> None:
    early = named([SQUAT, ROW], [mention(30, "Lunge")], [call(25)])
    assert early[1] == ROW
    late = named([SQUAT, ROW], [mention(50, "Lunge")], [call(45)])
    assert late[0] == SQUAT


def spoken(text: str, at_s: float) -> Talk:
    """Let the constant talk say something from a moment on, a word every half second."""
    words = list(TALK.words)
    for place, word in enumerate(text.split(), round(2 * at_s)):
        words[place] = replace(words[place], text=word, norm=word)
    return replace(TALK, words=tuple(words))


def test_a_swap_without_a_name_is_told_as_such() -> None:
    said = spoken("no i can't do that today my wrist hurts instead i'm doing this", 11)
    marks = [call(12), call(16)]
    swapped, _ = name_moves([SQUAT, ROW], said, marks, silent(), WEIGHTS)
    assert (swapped.status, swapped.done_instead) == ("swapped", UNNAMED)


@pytest.mark.parametrize(
    ("text", "status"),
    [
        ("no squats the lunge instead", "swapped"),
        ("the lunge instead of squats", "swapped"),
        ("then squats like a lunge only", "done"),
    ],
)
def test_refusing_a_move_for_another_is_a_swap(text: str, status: str) -> None:
    """Only words around the names tell: the same two names are heard in all three."""
    spots = {word: 14 + place / 2 for place, word in enumerate(text.split())}
    heard = [mention(spots["squats"], "Squat", is_planned=True), mention(spots["lunge"], "Lunge")]
    calls = [call(spots["instead"], 0.4)] if "instead" in spots else []
    heard_instead = "instead of" if "instead of" in text else "instead"
    marks = (*heard, *(replace(one, text=heard_instead) for one in calls))
    first, _ = name_moves([SQUAT, ROW], spoken(text, 14), marks, silent(), WEIGHTS)
    assert first.status == status


def test_skipped_rows_stay_skipped() -> None:
    skipped = interval(Row("Squat", None), 1)
    assert named([skipped, ROW], [mention(5, "Lunge")], [call(3)])[0] == skipped


@pytest.mark.parametrize(
    ("mentions", "move"),
    [
        ([], UNNAMED),
        ([mention(136, "Bear crawl")], "Bear crawl"),
        ([mention(136, "Bear crawl", weight=0.1)], UNNAMED),
        ([mention(130, "Lunge", weight=0.4), mention(136, "Bear crawl")], "Bear crawl"),
        ([mention(130, "Lunge"), mention(136, "Bear crawl")], "Bear crawl"),
        ([mention(20, "Lunge")], UNNAMED),
        ([mention(136, "Squat", is_planned=True)], "Squat"),
        ([mention(136, "Squat", is_planned=True, weight=0.5)], UNNAMED),
    ],
)
def test_an_added_interval_gets_the_name_said_for_it(mentions: list[Mark], move: str) -> None:
    added = named([SQUAT, ROW, ADDED], mentions)[2]
    assert added.move == move
    assert added.status == "added"
