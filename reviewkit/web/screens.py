"""The screens' templates: everything put into one is escaped."""

from __future__ import annotations

from jinja2 import Environment, PackageLoader, StrictUndefined

from reviewkit.report.page import FILTERS


def make_screens() -> Environment:
    """Load the templates of the page, with the words and figures that the report uses."""
    environment = Environment(
        loader=PackageLoader("reviewkit.web", "screens"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(FILTERS)
    return environment
