from dataclasses import replace

import pytest

from reviewkit.findings.silence import find_dead_air
from reviewkit.model import Bridge, Clock, Flag, HeardClass, PlanKind
from tests.findings.classes import Row, heard_class
from tests.talking import talk


def heard(
    text: str,
    *,
    move: str = "Squat",
    kind: PlanKind = "work",
    start_s: float = 100,
    clock: Clock = "words",
) -> HeardClass:
    words = talk(text, start_ms=100_000).words
    return heard_class([Row(move, start_s, kind=kind)], words=words, clock=clock)


@pytest.mark.parametrize(
    "one",
    [
        pytest.param(heard("sit low [15] push up [15] and rest"), id="short pauses"),
        pytest.param(heard("sit low [12] (exhales) [12] push up [10] rest"), id="a breath"),
        pytest.param(
            heard("breathe [35] and up", move="Final resting pose", kind="cool-down"),
            id="stillness is the move",
        ),
        pytest.param(heard("go [12] up [15] [30] stop", start_s=84), id="after the end"),
        pytest.param(heard("breathe and hold", clock="blocks"), id="after the last block"),
    ],
)
def test_left_alone(one: HeardClass) -> None:
    assert find_dead_air(one) == ()


def test_a_long_silence_is_flagged_with_the_words_before_it() -> None:
    (flag,) = find_dead_air(heard("sit low [25] push up [9] rest"))
    assert flag.at_ms == 100_750
    assert flag.text == "silence after: sit low"
    assert flag.move == "Squat"


@pytest.mark.parametrize("kind", ["warm-up", "cool-down"])
def test_a_silent_stretch_is_left_alone(kind: PlanKind) -> None:
    assert find_dead_air(heard("breathe [35] and up", move="Calf stretch", kind=kind)) == ()


# A minute of talk, and a minute that is silent but for a few words.
BUSY = ("go " * 10 + "[2] ") * 10
QUIET = "go " * 10 + "[56] "


def in_blocks(
    minutes: list[str],
    kind: PlanKind = "work",
    move: str = "Move",
    shift_s: float = 0,
    late: int = -1,
    late_s: int = 20,
    rests: bool = False,
) -> tuple[Flag, ...]:
    """Hear blocks of a minute beside rows of a minute that begin so much later.

    The stamp after block ``late`` comes ``late_s`` seconds late, and all that follows with it;
    its row is longer by as much, or a rest is.
    """
    starts = [60 * at + late_s * (0 <= late < at) for at in range(len(minutes) + 2)]
    rows = [
        Row(
            f"{move} {at}",
            starts[at] + shift_s,
            60 if rests else starts[at + 1] - starts[at],
            kind=kind,
        )
        for at in range(len(minutes))
    ]
    words = talk(" ".join([*minutes, "done"])).words
    bridges, first = [], 0
    for at, minute in enumerate((*minutes, "done")):
        last = first + sum(not part.startswith("[") for part in minute.split()) - 1
        bridges.append(Bridge(first, last, 1000 * starts[at], 1000 * starts[at + 1]))
        first = last + 1
    found = heard_class(rows, words=words, clock="blocks")
    return find_dead_air(replace(found, talk=replace(found.talk, bridges=tuple(bridges))))


@pytest.mark.parametrize("minutes", [[BUSY] * 5, [QUIET] * 5, [QUIET] * 3 + [BUSY] * 2])
def test_in_blocks_what_is_usual_is_left_alone(minutes: list[str]) -> None:
    assert in_blocks(minutes) == ()


def test_in_blocks_a_block_with_far_fewer_words_is_flagged() -> None:
    (flag,) = in_blocks([BUSY, QUIET, BUSY, BUSY, BUSY])
    assert flag.move == "Move 1"
    assert "somewhere between 1:00 and 2:00" in flag.why


def test_in_blocks_few_words_say_little_where_their_number_is_never_the_same() -> None:
    some = ("go " * 10 + "[8] ") * 5
    assert in_blocks([BUSY, QUIET, some, BUSY, some, QUIET, BUSY]) == ()


def test_in_blocks_a_stamp_that_comes_late_shows_a_silence() -> None:
    (flag,) = in_blocks([BUSY] * 6, late=2)
    assert in_blocks([BUSY] * 6, late=2, kind="cool-down") == ()
    assert flag.move == "Move 2"
    assert "somewhere between 2:00 and 3:20" in flag.why


def test_in_blocks_a_stamp_that_comes_a_little_late_shows_none() -> None:
    assert in_blocks([BUSY] * 6, late=2, late_s=6) == ()


def test_in_blocks_a_stamp_that_was_due_in_a_rest_shows_none() -> None:
    assert in_blocks([BUSY] * 6, late=2, rests=True) == ()


def test_in_blocks_the_silence_is_put_into_the_work_that_fills_most_of_the_block() -> None:
    (flag,) = in_blocks([BUSY, QUIET, BUSY, BUSY, BUSY], shift_s=40)
    assert flag.move == "Move 0"


def test_in_blocks_quiet_that_is_meant_is_left_alone() -> None:
    assert in_blocks([BUSY, QUIET, BUSY, BUSY, BUSY], move="Stillness") == ()


def test_few_blocks_do_not_show_what_is_usual() -> None:
    assert in_blocks([BUSY, QUIET, BUSY]) == ()


def test_in_blocks_little_talk_in_a_stretch_is_left_alone() -> None:
    assert in_blocks([BUSY, QUIET, BUSY, BUSY, BUSY], kind="cool-down") == ()


def test_an_interval_without_a_word_is_silent_from_its_start() -> None:
    (flag,) = find_dead_air(heard_class([Row("Squat", 100)]))
    assert (flag.at_ms, flag.text) == (100_000, "silence")
