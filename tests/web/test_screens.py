from __future__ import annotations

from datetime import UTC, datetime

import pytest
from jinja2 import UndefinedError

from reviewkit.web.screens import make_screens, say_day, say_moment_of_day


def test_what_is_put_into_a_screen_is_escaped() -> None:
    screen = make_screens().from_string("{{ said }}<a title='{{ said }}'>")
    assert screen.render(said="<b>'\"&") == (
        "&lt;b&gt;&#39;&#34;&amp;<a title='&lt;b&gt;&#39;&#34;&amp;'>"
    )


def test_what_is_missing_is_no_blank() -> None:
    with pytest.raises(UndefinedError):
        make_screens().from_string("{{ nobody_gave_this }}").render()


def test_days_are_written_as_the_clock_of_this_machine_has_them() -> None:
    at = datetime(2026, 5, 3, 12, 5, tzinfo=UTC)
    here = at.astimezone()
    assert say_day(at) == f"{here.day} May 2026"
    assert say_moment_of_day(at) == f"{here.day} May 2026, {here.hour:02}:{here.minute:02}"
