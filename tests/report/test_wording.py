"""Values are written as a coach would say them."""

import pytest

from reviewkit.report.wording import NONE, say_value


@pytest.mark.parametrize(
    ("value", "what", "said"),
    [
        (0.0, "rest", "no rest"),
        (30.4, "rest", "30 s"),
        (90.0, "cool_down", "90 s"),
        ("done", "cool_down", "done"),
        (12.8, "minutes", "12.8 min"),
        (2.0, "rounds", "2"),
        ("a chair", "equipment", "a chair"),
        (None, "rest", NONE),
    ],
)
def test_what_was_promised_is_written_in_its_unit(
    value: float | str | None, what: str, said: str
) -> None:
    assert say_value(value, what) == said
