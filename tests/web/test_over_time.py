from __future__ import annotations

import io
import json
from importlib import util

import pandas as pd
import pytest

from reviewkit.progress.figures import FIGURES
from reviewkit.report.wording import MINUS
from reviewkit.store import Store
from tests.progress.build import a_document, to_keep
from tests.web.visitor import Visitor, words


def keep(store: Store, *scores: float) -> None:
    """Keep a class for each timing score."""
    for number, score in enumerate(scores, 1):
        store.add_review(to_keep(number, a_document(timing=score)))


def test_no_class_is_a_screen_too(page: Visitor) -> None:
    assert "No class is kept yet." in words(page.get("/progress"))
    assert "no two classes to compare yet" in words(page.get("/compare"))


def test_one_class_has_its_points_and_no_charts(page: Visitor, store: Store) -> None:
    keep(store, 50)
    screen = page.get("/progress")
    assert "Charts begin with the second class." in words(screen)
    assert '<svg class="chart"' not in screen.text
    assert "Move by move" in words(screen)


def test_several_classes_are_drawn_listed_and_linked(page: Visitor, store: Store) -> None:
    keep(store, *range(10, 80, 10))
    screen = page.get("/progress")
    assert screen.text.count('<svg class="chart"') == len(FIGURES)
    assert "better, +10 a class" in words(screen)
    assert "still missing after 7 classes" in words(screen)
    assert "Mann-Kendall" in words(screen)
    for one in store.list_reviews():
        assert f'href="/reviews/{one.id}"' in screen.text
    assert page.get("/static/progress/progress.css").status_code == 200


def test_the_screen_and_the_kept_page_show_the_same_drawings(page: Visitor, store: Store) -> None:
    keep(store, 10, 20)
    drawings = [
        page.get(address).text.split('<ul class="charts">')[1].split("</ul>")[0]
        for address in ("/progress", "/progress/files/progress.html")
    ]
    assert drawings[0] == drawings[1]


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("progress.html", "text/html; charset=utf-8"),
        ("progress.json", "application/json; charset=utf-8"),
        ("classes.csv", "text/csv; charset=utf-8"),
        ("points.csv", "text/csv; charset=utf-8"),
        ("classes.parquet", "application/vnd.apache.parquet"),
        ("points.parquet", "application/vnd.apache.parquet"),
    ],
)
def test_all_of_it_is_taken_away(page: Visitor, store: Store, name: str, kind: str) -> None:
    keep(store, 10, 20)
    assert f'href="/progress/files/{name}"' in page.get("/progress").text
    answer = page.get(f"/progress/files/{name}")
    assert answer.headers["content-type"] == kind
    assert f'filename="classes-over-time-{name}"' in answer.headers["content-disposition"]
    assert answer.content


def test_tables_hold_every_class(page: Visitor, store: Store) -> None:
    keep(store, 10, 20)
    table = pd.read_parquet(io.BytesIO(page.get("/progress/files/classes.parquet").content))
    assert [*table["timing"]] == [10, 20]
    document = json.loads(page.get("/progress/files/progress.json").text)
    assert [one["timing"] for one in document["classes"]] == [10, 20]


def test_without_its_library_parquet_is_not_offered(
    page: Visitor, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep(store, 10)
    find = util.find_spec
    monkeypatch.setattr(
        "reviewkit.progress.tables.find_spec",
        lambda name: None if name == "pyarrow" else find(name),
    )
    screen = page.get("/progress")
    assert "classes.parquet" not in screen.text
    assert "reviewkit[parquet]" in words(screen)


def test_the_two_latest_are_compared_unless_others_are_chosen(page: Visitor, store: Store) -> None:
    keep(store, 10, 20, 60)
    assert "Timing 20 60 +40" in words(page.get("/compare"))
    chosen = page.get("/compare?first=3&second=1")
    assert f"Timing 60 10 {MINUS}50" in words(chosen)
    kept = page.get("/compare/file?first=3&second=1")
    assert f"Timing 60 10 {MINUS}50" in words(kept)
    assert 'filename="two-classes-comparison.html"' in kept.headers["content-disposition"]


def test_a_class_is_not_compared_with_itself_or_with_none(page: Visitor, store: Store) -> None:
    keep(store, 10, 20)
    assert "Choose two that are not the same." in words(page.get("/compare?first=1&second=1"))
    assert page.get("/compare/file?first=1&second=1").status_code == 404
    assert page.get("/compare?first=1&second=9").status_code == 404
    assert page.get("/compare?first=one").status_code == 404


@pytest.mark.parametrize("name", ["classes.xlsx", "progress.css", "..%2fprogress.css"])
def test_there_are_no_other_files(page: Visitor, name: str) -> None:
    assert page.get(f"/progress/files/{name}").status_code == 404
