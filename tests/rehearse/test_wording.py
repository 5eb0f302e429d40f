from __future__ import annotations

from reviewkit.rehearse.wording import say_clock, say_facts, warnings
from tests.rehearse.sample import CROWDED, last_document, sheet


def test_a_moment_between_seconds_is_told_exactly() -> None:
    assert [say_clock(at) for at in (0, 65_000, 22_500)] == ["0:00", "1:05", "0:22.5"]


def test_what_fits_is_not_warned_of() -> None:
    assert warnings(sheet()) == ()


def test_a_warning_names_the_interval_and_by_how_much() -> None:
    (said,) = warnings(sheet(CROWDED))
    assert said.startswith("Interval 1, Goblet squat: what must be said takes 3")
    assert "s too long for the 20 s there are" in said


def test_it_is_told_whose_speaking_rate_was_used() -> None:
    assert "150 words a minute (a usual one)" in say_facts(sheet())
    assert "180 words a minute (your own, from last time)" in say_facts(
        sheet(document=last_document())
    )
