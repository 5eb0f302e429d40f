"""Progress as one HTML page that needs nothing else: no script, no network."""

from __future__ import annotations

from typing import Any

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from reviewkit.cautions import CAUTIONS
from reviewkit.progress.charts import chart
from reviewkit.progress.figures import FIGURES
from reviewkit.progress.overview import Overview
from reviewkit.progress.wording import (
    METHOD,
    say_change,
    say_figure,
    say_overview,
    say_points,
    say_trend,
)
from reviewkit.report.page import FILTERS

PROGRESS_FILTERS = {"figure": say_figure, "change": say_change}


def page(overview: Overview) -> str:
    """Write all of the progress as a page for reading, printing and keeping."""
    template = _environment().get_template("progress.html")
    return template.render(overview=overview, cautions=CAUTIONS, **shown(overview))


def shown(overview: Overview) -> dict[str, Any]:
    """Give what a screen shows of the progress besides the classes themselves."""
    return {
        "lead": say_overview(overview),
        "charts": [
            (
                one,
                Markup(chart(one, overview)),  # noqa: S704 - escaped where drawn
                say_trend(one, overview.trends[one.key]),
                overview.trends[one.key],
            )
            for one in FIGURES
        ],
        "still": [(one, say_points(one.kind, one.asked_by)) for one in overview.still_missing],
        "figures": FIGURES,
        "method": METHOD,
    }


def _environment() -> Environment:
    environment = Environment(
        loader=ChoiceLoader(
            [
                PackageLoader("reviewkit.progress"),
                # The charts' colours, which the page in the browser loads as a file.
                PackageLoader("reviewkit.progress", "static"),
            ]
        ),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(FILTERS)
    environment.filters.update(PROGRESS_FILTERS)
    return environment
