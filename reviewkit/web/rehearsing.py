"""Prepare the next filming on the page: the cue sheet and the class clock of a review or a plan."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from http import HTTPStatus

from fastapi import APIRouter, HTTPException
from fastapi.responses import HTMLResponse, Response

from reviewkit.kept.keeping import document_of, own_lexicon, plan_of
from reviewkit.kept.looking_back import latest_of_plan
from reviewkit.model import Plan
from reviewkit.rehearse import CueSheet, make_sheet, parse_last_time
from reviewkit.rehearse.folder import MAKERS
from reviewkit.rehearse.page import clock_page, sheet_page
from reviewkit.rehearse.wording import open_points, say_facts, warnings
from reviewkit.store import ReviewSummary
from reviewkit.web.files import as_download
from reviewkit.web.sending import typed_plan
from reviewkit.web.state import PageState

# Where the styles and scripts of both pages are served.
SERVED_FROM = "/static/rehearse"
FILES = (
    ("cue-sheet.html", "Cue sheet, one file (HTML)"),
    ("cue-sheet.md", "Cue sheet as text (Markdown)"),
    ("class-clock.html", "Class clock, one file that needs no network (HTML)"),
)
PAGES: dict[str, Callable[..., str]] = {"sheet": sheet_page, "clock": clock_page}
NO_SUCH_PART = "The next filming has no part of that name."
NONE = "none"


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """A sheet that was asked for.

    Attributes:
        sheet: The sheet.
        address: Where its screen is, without what was chosen.
        last: Number of the review that was looked at, None where none was.
        choices: Reviews that can be looked at; none where there is nothing to choose.
    """

    sheet: CueSheet
    address: str
    last: int | None
    choices: tuple[ReviewSummary, ...] = ()

    @property
    def origin(self) -> str:
        """The address of what is rehearsed."""
        return self.address.removesuffix("/next")

    @property
    def chosen(self) -> str:
        """The choice as the end of an address."""
        return f"?last={self.last or NONE}" if self.choices else ""


def router(state: PageState) -> APIRouter:
    """Give the routes of the next filming."""
    routes = APIRouter()

    @routes.get("/reviews/{review_id}/next")
    def of_review(review_id: int) -> Response:
        """Show what there is for the next filming of a reviewed class."""
        return _screen(state, _of_review(state, review_id))

    @routes.get("/reviews/{review_id}/next/{part}")
    def part_of_review(review_id: int, part: str) -> Response:
        """Show the sheet or the clock, or send one of the files."""
        _check_part(part)
        return _part(_of_review(state, review_id), part)

    @routes.get("/plans/{plan_id}/next")
    def of_plan(plan_id: int, last: str = "") -> Response:
        """Show what there is for the filming of a plan."""
        return _screen(state, _of_plan(state, plan_id, last))

    @routes.get("/plans/{plan_id}/next/{part}")
    def part_of_plan(plan_id: int, part: str, last: str = "") -> Response:
        """Show the sheet or the clock, or send one of the files."""
        _check_part(part)
        return _part(_of_plan(state, plan_id, last), part)

    return routes


def _of_review(state: PageState, review_id: int) -> Rehearsal:
    stored = state.store.get_review(review_id)
    sheet = _sheet(state, plan_of(stored), stored.title, (review_id, stored.title))
    return Rehearsal(sheet, f"/reviews/{review_id}/next", review_id)


def _of_plan(state: PageState, plan_id: int, last: str) -> Rehearsal:
    saved = state.store.get_plan(plan_id)
    plan = typed_plan(saved.text)
    reviews = state.store.list_reviews()
    chosen = next((one for one in reviews if str(one.id) == last), None)
    if not last:
        chosen = latest_of_plan(state.store, plan)
    sheet = _sheet(state, plan, saved.title, (chosen.id, chosen.title) if chosen else None)
    return Rehearsal(sheet, f"/plans/{plan_id}/next", chosen.id if chosen else None, reviews)


def _sheet(state: PageState, plan: Plan, title: str, last: tuple[int, str] | None) -> CueSheet:
    named = replace(plan, title=title)
    earlier = parse_last_time(last[1], document_of(state.store, last[0])) if last else None
    return make_sheet(named, own_lexicon(state.store), earlier)


def _screen(state: PageState, rehearsal: Rehearsal) -> Response:
    return state.render(
        "rehearse.html",
        rehearsal=rehearsal,
        sheet=rehearsal.sheet,
        facts=say_facts(rehearsal.sheet),
        warnings=warnings(rehearsal.sheet),
        open_points=open_points(rehearsal.sheet),
        no_class=NONE,
        files=FILES,
    )


def _check_part(part: str) -> None:
    if part not in PAGES and part not in MAKERS:
        raise HTTPException(HTTPStatus.NOT_FOUND, NO_SUCH_PART)


def _part(rehearsal: Rehearsal, part: str) -> Response:
    if part in PAGES:
        back = f"{rehearsal.address}{rehearsal.chosen}"
        return HTMLResponse(PAGES[part](rehearsal.sheet, served_from=SERVED_FROM, back=back))
    return as_download(MAKERS[part](rehearsal.sheet), rehearsal.sheet.title, part)
