from dataclasses import replace

from reviewkit.findings.order import find_traded_places
from tests.findings.classes import Row, circuit, heard_class


def test_the_planned_order_is_left_alone() -> None:
    assert find_traded_places(heard_class(circuit())) == ()


def test_a_skipped_move_is_no_trade() -> None:
    rows = circuit()
    rows[1] = replace(rows[1], start_s=None)
    assert find_traded_places(heard_class(rows)) == ()


def test_right_before_left_is_no_trade() -> None:
    rows = [Row("Clam", 160, side="left"), Row("Clam", 100, side="right")]
    assert find_traded_places(heard_class(rows)) == ()


def test_neighbours_that_traded_places() -> None:
    rows = circuit()
    rows[1], rows[2] = (
        replace(rows[1], start_s=rows[2].start_s),
        replace(rows[2], start_s=rows[1].start_s),
    )
    (flag,) = find_traded_places(heard_class(rows))
    assert (flag.move, flag.round) == ("Push-up", 1)
    assert "Lunge came before Push-up" in flag.why


def test_one_flag_for_pairs_of_sides_that_traded_places() -> None:
    rows = [
        Row("Clam", 220, side="left"),
        Row("Clam", 280, side="right"),
        Row("Side kick", 100, side="left"),
        Row("Side kick", 160, side="right"),
    ]
    assert len(find_traded_places(heard_class(rows))) == 1
