"""Progress as HTML: pages that need nothing else, and what the page in the browser shows of it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import Any

from jinja2 import BaseLoader, ChoiceLoader, Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from reviewkit.cautions import CAUTIONS
from reviewkit.progress.charts import chart, history_strip
from reviewkit.progress.compare import Comparison
from reviewkit.progress.figures import FIGURES, Figure
from reviewkit.progress.overview import Overview, PointHistory
from reviewkit.progress.trends import Trend
from reviewkit.progress.wording import (
    METHOD,
    ONLY_TWO,
    say_change,
    say_figure,
    say_history,
    say_overview,
    say_points,
    say_trend,
    say_verdicts,
    way_of,
)
from reviewkit.report.page import FILTERS

PROGRESS_FILTERS = {
    "change": say_change,
    "figure": say_figure,
    "history": say_history,
    "kind_of_point": lambda one: say_points(one.kind, one.asked_by),
    "verdicts": say_verdicts,
}
# One dot is no way from class to class.
CHARTS_FROM = 2

PointGroup = tuple[str, list[tuple[PointHistory, Markup]]]


@dataclass(frozen=True, slots=True)
class ChartView:
    """A figure over the classes; ``tone`` is "better", "worse", "open" or none for no trend."""

    figure: Figure
    latest: float | None
    picture: Markup
    said: str
    tone: str


def page(overview: Overview) -> str:
    """Write all of the progress as a page for reading, printing and keeping."""
    template = _environment().get_template("progress.html")
    return template.render(cautions=CAUTIONS, **shown(overview))


def comparison_page(comparison: Comparison) -> str:
    """Write two classes side by side as a page for reading, printing and keeping."""
    template = _environment().get_template("comparison.html")
    return template.render(cautions=CAUTIONS, comparison=comparison, only_two=ONLY_TWO)


def shown(overview: Overview) -> dict[str, Any]:
    """Give what a page shows of the progress, by the names that its templates know."""
    has_charts = len(overview.classes) >= CHARTS_FROM
    return {
        "overview": overview,
        "lead": say_overview(overview),
        "charts": [_chart_view(one, overview) for one in FIGURES] if has_charts else [],
        "groups": {asked: _groups(overview, asked) for asked in ("plan", "lexicon")},
        "figures": FIGURES,
        "method": METHOD,
    }


def parts_loader() -> BaseLoader:
    """Load the parts that every page of the progress is put together from."""
    return PackageLoader("reviewkit.progress")


def _chart_view(figure: Figure, overview: Overview) -> ChartView:
    trend = overview.trends[figure.key]
    known = [one.figures[figure.key] for one in overview.classes]
    return ChartView(
        figure,
        next((value for value in reversed(known) if value is not None), None),
        Markup(chart(figure, overview)),  # noqa: S704 - escaped where drawn
        say_trend(figure, trend),
        _tone(figure, trend),
    )


def _tone(figure: Figure, trend: Trend) -> str:
    if not trend.is_claimed:
        return ""
    way = way_of(figure, trend)
    return way if way in ("better", "worse") else "open"


def _groups(overview: Overview, asked_by: str) -> list[PointGroup]:
    """Give the points of each move with their pictures, in the order of ``points``."""
    chosen = [one for one in overview.points if one.asked_by == asked_by]
    return [
        (
            move,
            [
                (one, Markup(history_strip(one, overview)))  # noqa: S704 - made of verdicts alone
                for one in points
            ],
        )
        for move, points in groupby(chosen, key=lambda one: one.move)
    ]


def _environment() -> Environment:
    environment = Environment(
        # The charts' colours, which the page in the browser loads as a file.
        loader=ChoiceLoader([parts_loader(), PackageLoader("reviewkit.progress", "static")]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(FILTERS)
    environment.filters.update(PROGRESS_FILTERS)
    return environment
