from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from reviewkit.progress.charts import MOST_IN_HISTORY, chart, history_strip, sparkline
from reviewkit.progress.figures import FIGURES, Figure
from reviewkit.progress.overview import make_overview
from tests.progress.build import a_record, a_year

BY_KEY = {one.key: one for one in FIGURES}
TIMING = BY_KEY["timing"]


def places(svg: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r'cx="([\d.]+)" cy="([\d.]+)"', svg)]


def test_a_dot_a_class_and_a_gap_where_there_is_none() -> None:
    svg = chart(TIMING, make_overview(a_year([0, 50, None, 100, 100])))
    dots = places(svg)
    assert len(dots) == 4
    assert [x for x, _ in dots] == sorted(x for x, _ in dots)
    assert dots[0][1] > dots[1][1] > dots[2][1] == dots[3][1]
    assert svg.count("<polyline") == 2


@pytest.mark.parametrize("figure", FIGURES, ids=lambda one: one.key)
@pytest.mark.parametrize("classes", [0, 1, 6])
def test_every_chart_is_sound_and_says_what_it_shows(figure: Figure, classes: int) -> None:
    svg = chart(figure, make_overview(a_year([70.0] * classes)))
    drawn = ElementTree.fromstring(svg)  # noqa: S314 - our own
    assert drawn.get("aria-label", "").startswith(f"{figure.name}: ")
    assert "style" not in svg


def test_drifts_that_nobody_would_notice_draw_a_flat_line() -> None:
    drift = BY_KEY["drift_median_s"]
    records = a_year([70.0] * 3)
    small, large = ([0.1, -0.1, 0.1], [9.0, -9.0, 9.0])
    heights = []
    for values in (small, large):
        overview = make_overview(
            [
                replace(one, figures={**one.figures, drift.key: value})
                for one, value in zip(records, values, strict=True)
            ]
        )
        ys = [y for _, y in places(chart(drift, overview))]
        heights.append(max(ys) - min(ys))
    assert heights[0] < heights[1] / 10


def test_dots_of_many_classes_do_not_run_into_each_other() -> None:
    svg = chart(TIMING, make_overview(a_year([float(at % 100) for at in range(100)])))
    (radius,) = set(re.findall(r' r="([\d.]+)"', svg))
    first, second = (x for x, _ in places(svg)[:2])
    assert 2 * float(radius) <= second - first + 0.1


def test_a_points_history_has_a_sign_a_class() -> None:
    overview = make_overview(a_year([1.0] * 3))
    one = overview.points[0]
    later = replace(one, classes=(2, 3), verdicts=("missing", "late"))
    signs = re.findall(r'class="(none|said|late|missing)"', history_strip(later, overview))
    assert signs == ["none", "missing", "late"]


def test_a_long_history_shows_the_latest_classes() -> None:
    overview = make_overview(a_year([1.0] * (MOST_IN_HISTORY + 1)))
    drawn = history_strip(overview.points[0], overview)
    assert len(re.findall(r"<(?:rect|circle)", drawn)) == MOST_IN_HISTORY


def test_titles_are_escaped() -> None:
    svg = chart(TIMING, make_overview([a_record(1, title="<script>")]))
    assert "<script>" not in svg
    assert "&lt;script&gt;" in svg


def test_signs_of_a_terminal_rise_with_the_figure() -> None:
    assert sparkline(TIMING, [0, 50, None, 100], 20) == "▁▅·█"
    assert sparkline(TIMING, [0, 50, 100], 2) == "▅█"
