"""The screens' templates: everything put into one is escaped."""

from __future__ import annotations

from datetime import datetime

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined

from reviewkit.progress.page import PROGRESS_FILTERS, parts_loader
from reviewkit.report.page import FILTERS

# Spelt out here: the language of the machine must not show through on an English page.
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


def make_screens() -> Environment:
    """Load the templates of the page, with the words and figures that the report uses."""
    environment = Environment(
        loader=ChoiceLoader([PackageLoader("reviewkit.web", "screens"), parts_loader()]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(FILTERS)
    environment.filters.update(PROGRESS_FILTERS)
    environment.filters.update(day=say_day, moment_of_day=say_moment_of_day)
    return environment


def say_day(at: datetime) -> str:
    """Write a date as the clock of this machine has it: ``3 May 2026``."""
    here = at.astimezone()
    return f"{here.day} {MONTHS[here.month - 1]} {here.year}"


def say_moment_of_day(at: datetime) -> str:
    """Write a date with its time of day: ``3 May 2026, 18:05``."""
    return f"{say_day(at)}, {at.astimezone():%H:%M}"
