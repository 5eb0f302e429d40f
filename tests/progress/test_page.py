from __future__ import annotations

import re
from html import unescape

from reviewkit.cautions import CAUTIONS
from reviewkit.progress.compare import compare
from reviewkit.progress.figures import FIGURES
from reviewkit.progress.overview import make_overview
from reviewkit.progress.page import comparison_page, page
from tests.progress.build import a_document, a_record, a_year

HARM = "<script>alert(1)</script>"


def test_the_page_needs_nothing_else() -> None:
    text = page(make_overview(a_year([1, 2, 3])))
    assert not re.search(r"<script|<link|<img|https?:|url\(|@import", text)
    assert "prefers-color-scheme: dark" in text


def test_every_figure_has_its_chart_and_the_cautions_stand_below() -> None:
    text = page(make_overview(a_year([1, 2, 3])))
    assert text.count('<svg class="chart"') == len(FIGURES)
    assert all(one in unescape(text) for one in CAUTIONS)
    assert "Mann-Kendall" in text


def test_one_class_has_no_way_to_be_drawn() -> None:
    assert '<svg class="chart"' not in page(make_overview(a_year([1])))


def test_points_are_called_still_missing_from_the_third_class_on() -> None:
    assert "from the third class on" in page(make_overview(a_year([1])))
    assert "from the third class on" not in page(make_overview(a_year([1, 2, 3])))


def test_every_point_is_listed_with_how_it_went() -> None:
    first, second = a_record(1), a_record(2)
    text = page(make_overview([first, second]))
    for one in first.points:
        assert f">{one.point}" in unescape(text)
    assert text.count('<svg class="history" viewBox="0 0 20 14"') == len(first.points)


def test_two_classes_stand_side_by_side() -> None:
    other = a_document(timing=12)
    other["moves"][0]["points"][0]["verdict"] = "missing"
    text = comparison_page(compare(a_record(1, title=HARM), a_record(2, other)))
    assert "Went otherwise" in text
    assert not re.search(r"<script|<link|<img|https?:|url\(|@import", text)
    assert all(one in unescape(text) for one in CAUTIONS)


def test_titles_are_escaped() -> None:
    text = page(make_overview([a_record(1, title=HARM)], [f"{HARM}: unreadable"]))
    assert HARM not in text


def test_no_class_is_a_page_too() -> None:
    assert "No class is kept yet." in page(make_overview([]))
