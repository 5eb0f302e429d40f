from __future__ import annotations

import re
from html import unescape

from reviewkit.cautions import CAUTIONS
from reviewkit.progress.figures import FIGURES
from reviewkit.progress.overview import make_overview
from reviewkit.progress.page import page
from tests.progress.build import a_record, a_year

HARM = "<script>alert(1)</script>"


def test_the_page_needs_nothing_else() -> None:
    text = page(make_overview(a_year([1, 2, 3])))
    assert not re.search(r"<script|<link|<img|https?:|url\(|@import", text)
    assert "prefers-color-scheme: dark" in text


def test_every_figure_has_its_chart_and_the_cautions_stand_below() -> None:
    text = page(make_overview(a_year([1, 2, 3])))
    assert text.count("<svg") == len(FIGURES)
    assert all(one in unescape(text) for one in CAUTIONS)
    assert "Mann-Kendall" in text


def test_titles_are_escaped() -> None:
    text = page(make_overview([a_record(1, title=HARM)], [f"{HARM}: unreadable"]))
    assert HARM not in text


def test_no_class_is_a_page_too() -> None:
    assert "No class is kept yet." in page(make_overview([]))
