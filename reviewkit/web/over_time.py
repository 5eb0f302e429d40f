"""The classes over time on the page, two of them side by side, and all of it as files."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from http import HTTPStatus

from fastapi import APIRouter, HTTPException
from fastapi.responses import Response

from reviewkit.kept.looking_back import look_at, look_back
from reviewkit.progress import tables
from reviewkit.progress.compare import Comparison, compare
from reviewkit.progress.overview import Overview
from reviewkit.progress.page import comparison_page, page, shown
from reviewkit.progress.wording import ONLY_TWO
from reviewkit.store import Missing, ReviewSummary
from reviewkit.web.files import NO_SUCH_FILE, as_download
from reviewkit.web.state import PageState

# Where the style of the charts is served.
SERVED_FROM = "/static/progress"
MAKERS: Mapping[str, Callable[[Overview], str | bytes]] = {
    "progress.html": page,
    "progress.json": tables.progress_json,
    "classes.csv": tables.classes_csv,
    "points.csv": tables.points_csv,
    "classes.parquet": tables.classes_parquet,
    "points.parquet": tables.points_parquet,
}
FILES = (
    ("progress.html", "Page to read and keep (HTML)"),
    ("progress.json", "All of it for other programs (JSON)"),
    ("classes.csv", "Table of classes (CSV)"),
    ("points.csv", "Table of points (CSV)"),
    ("classes.parquet", "Table of classes (Parquet)"),
    ("points.parquet", "Table of points (Parquet)"),
)
TITLE = "classes over time"
COMPARED = "comparison.html"


def router(state: PageState) -> APIRouter:
    """Give the routes of the classes over time."""
    routes = APIRouter()

    @routes.get("/progress")
    def over_time() -> Response:
        """Show all kept classes together."""
        has_parquet = tables.has_parquet()
        files = [one for one in FILES if has_parquet or not one[0].endswith(".parquet")]
        overview = look_back(state.store)
        return state.render(
            "progress_screen.html",
            files=files,
            no_parquet="" if has_parquet else tables.NO_PARQUET,
            **shown(overview),
        )

    @routes.get("/progress/files/{name}")
    def take(name: str) -> Response:
        """Send all kept classes together as one file, for saving."""
        if name not in MAKERS:
            raise HTTPException(HTTPStatus.NOT_FOUND, NO_SUCH_FILE)
        return as_download(MAKERS[name](look_back(state.store)), TITLE, name)

    @routes.get("/compare")
    def side_by_side(first: int | None = None, second: int | None = None) -> Response:
        """Show two classes side by side; the two latest where none was chosen."""
        reviews = state.store.list_reviews()
        latest = [one.id for one in reviews[:2]]
        if len(latest) == 2:
            first, second = first or latest[1], second or latest[0]
        return state.render(
            "compare_screen.html",
            reviews=reviews,
            first=first,
            second=second,
            comparison=_compared(state, reviews, first, second),
            only_two=ONLY_TWO,
        )

    @routes.get("/compare/file")
    def take_comparison(first: int, second: int) -> Response:
        """Send two classes side by side as a page, for saving."""
        compared = _compared(state, state.store.list_reviews(), first, second)
        if compared is None:
            raise HTTPException(HTTPStatus.NOT_FOUND, NO_SUCH_FILE)
        return as_download(comparison_page(compared), "two classes", COMPARED)

    return routes


def _compared(
    state: PageState, reviews: tuple[ReviewSummary, ...], first: int | None, second: int | None
) -> Comparison | None:
    """Compare two reviews; None where there are not two to compare."""
    if first is None or second is None or first == second:
        return None
    known = {one.id: one for one in reviews}
    for one in (first, second):
        if one not in known:
            raise Missing("review", one)
    return compare(*(look_at(state.store, known[one]) for one in (first, second)))
