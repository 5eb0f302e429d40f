"""Values are written as a coach would say them."""

import pytest

from reviewkit.report.wording import NONE, say_value


@pytest.mark.parametrize(
    ("value", "what", "said"),
    [
        (0.0, "rest", "no rest"),
        (30.0, "rest", "30 s"),
        (2.0, "rounds", "2"),
        ("a chair", "equipment", "a chair"),
        (None, "rest", NONE),
    ],
)
def test_what_was_promised_is_written_in_its_unit(
    value: float | str | None, what: str, said: str
) -> None:
    assert say_value(value, what) == said
