from dataclasses import replace

from reviewkit.findings.structure import find_missing_parts
from tests.findings.classes import COOL_DOWN, WARM_UP, Row, circuit, heard_class
from tests.talking import talk


def kinds(rows: list[Row], text: str = "") -> list[str]:
    heard = heard_class(rows)
    if text:
        heard = replace(heard, talk=replace(talk(text), length_ms=1_000_000))
    return [flag.kind for flag in find_missing_parts(heard)]


def test_a_whole_class_is_left_alone() -> None:
    assert kinds([WARM_UP, *circuit(), COOL_DOWN]) == []


def test_an_empty_class_is_left_alone() -> None:
    assert kinds([]) == []


def test_a_plan_that_names_no_parts_is_judged_by_the_talk() -> None:
    assert "no_warm_up" not in kinds(circuit(start_s=10), "let's get warm with easy squats")


def test_parts_that_were_planned_and_skipped_are_missing() -> None:
    rows = [replace(WARM_UP, start_s=None), *circuit(), replace(COOL_DOWN, start_s=None)]
    assert kinds(rows) == ["no_warm_up", "no_cool_down"]


def test_a_part_that_was_never_planned_is_missing_too() -> None:
    assert kinds([*circuit(), COOL_DOWN]) == ["no_warm_up"]
    assert kinds([WARM_UP, *circuit()]) == ["no_cool_down"]
