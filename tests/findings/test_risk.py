import pytest

from reviewkit.findings.risk import ADVICE, find_risky_flags
from reviewkit.model import Mark
from tests.findings.classes import Row, heard_class
from tests.talking import talk


def risky(at_s: float, ref: str = "pain") -> Mark:
    at_ms = round(1000 * at_s)
    return Mark("risky_talk", 0, 1, at_ms, at_ms + 900, "push through it", ref)


def test_other_marks_are_left_alone() -> None:
    mark = Mark("move", 0, 1, 110_000, 111_000, "squats", "Squat")
    assert find_risky_flags(heard_class([Row("Squat", 100)], marks=(mark,))) == ()


@pytest.mark.parametrize("ref", sorted(ADVICE))
def test_every_kind_has_a_reason_and_a_safer_wording(ref: str) -> None:
    (flag,) = find_risky_flags(heard_class([Row("Squat", 100)], marks=(risky(110, ref),)))
    assert flag.why
    assert flag.instead
    assert (flag.move, flag.round, flag.interval) == ("Squat", 1, "i1")


def test_a_line_between_intervals_names_no_move() -> None:
    (flag,) = find_risky_flags(heard_class([Row("Squat", 100)], marks=(risky(160),)))
    assert (flag.move, flag.round, flag.interval) == ("", None, None)


def test_a_coarse_clock_names_no_move_near_an_edge() -> None:
    words = talk("push through it", spread_ms=15_000).words
    rows = [Row("Squat", 100)]
    (near,) = find_risky_flags(heard_class(rows, words=words, clock="blocks", marks=(risky(105),)))
    (inside,) = find_risky_flags(
        heard_class(rows, words=words, clock="blocks", marks=(risky(120),))
    )
    assert (near.move, inside.move) == ("", "Squat")


def test_a_swapped_slot_names_the_move_done() -> None:
    rows = [Row("Squat", 100, instead="Lunge")]
    (flag,) = find_risky_flags(heard_class(rows, marks=(risky(110),)))
    assert flag.move == "Lunge"
