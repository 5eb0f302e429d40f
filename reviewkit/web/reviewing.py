"""One review: its screen, the card of a thing chosen on it, corrections and their undoing."""

from __future__ import annotations

import re
from http import HTTPStatus

from fastapi import APIRouter, HTTPException
from fastapi.responses import RedirectResponse, Response
from markupsafe import Markup

from reviewkit.errors import InputError
from reviewkit.kept.keeping import refresh
from reviewkit.report.formulae import HOW
from reviewkit.web.card_views import CorrectionView
from reviewkit.web.cards import find_card
from reviewkit.web.corrected_views import correction_views
from reviewkit.web.correction_form import NO_MOVE, OTHER_MOVE, PLAN_MOVE, read_corrections
from reviewkit.web.edit_view import edit_view
from reviewkit.web.editing import edits_of
from reviewkit.web.opening import OpenReview, open_review
from reviewkit.web.review_view import Finder, review_view
from reviewkit.web.state import PageState
from reviewkit.web.track import draw_track
from reviewkit.web.uploads import Form, SentForm

FILES = (
    ("review.html", "Page to read and keep (HTML)"),
    ("review.md", "Notes (Markdown)"),
    ("review.json", "All of it for other programs (JSON)"),
    ("intervals.csv", "Table of intervals (CSV)"),
    ("moves.csv", "Table of points (CSV)"),
)
NOT_THERE = "That is not in this review, or no longer."
_ITEM = re.compile(r"[\w-]{1,120}", re.ASCII)


def router(state: PageState) -> APIRouter:
    """Give the routes of a review."""
    routes = APIRouter()

    @routes.get("/reviews/{review_id}")
    def show(review_id: int) -> Response:
        """Show the whole review."""
        return _screen(state, open_review(state, review_id))

    @routes.get("/reviews/{review_id}/about/{item}")
    def about(review_id: int, item: str) -> Response:
        """Show the card of one thing."""
        return _about(state, open_review(state, review_id), item)

    @routes.post("/reviews/{review_id}/corrections")
    def correct(review_id: int, form: SentForm) -> Response:
        """Keep what the coach says, and go back to the review made anew."""
        opened = open_review(state, review_id)
        try:
            corrections = read_corrections(form.text, opened.review)
        except InputError as error:
            return _about(state, opened, form.text("item"), error, form)
        for one in corrections:
            state.store.add_correction(review_id, one)
        _keep_summary(state, review_id)
        return _back(review_id, form.text("item"))

    @routes.post("/reviews/{review_id}/corrections/{correction_id}/undo")
    def undo(review_id: int, correction_id: int, form: SentForm) -> Response:
        """Take one correction back."""
        state.store.undo_correction(review_id, correction_id)
        _keep_summary(state, review_id)
        return _back(review_id, form.text("item") or "corrections")

    return routes


def _keep_summary(state: PageState, review_id: int) -> None:
    """Let the list of reviews show this one as it now stands."""
    refresh(state.store, review_id, open_review(state, review_id).review)


def _back(review_id: int, item: str) -> Response:
    place = f"#{item}" if _ITEM.fullmatch(item) else ""
    return RedirectResponse(f"/reviews/{review_id}{place}", HTTPStatus.SEE_OTHER)


def _corrections(opened: OpenReview) -> tuple[CorrectionView, ...]:
    return correction_views(opened.corrections, opened.review, opened.heard)


def _screen(state: PageState, opened: OpenReview) -> Response:
    address = f"/reviews/{opened.stored.id}"
    track = draw_track(opened.review, f"{address}/about/")
    return state.render(
        "review_screen.html",
        review_id=opened.stored.id,
        title=opened.stored.title,
        address=address,
        base="",
        view=review_view(opened.review),
        track=track,
        drawing=Markup(track.svg),  # noqa: S704 - escaped where drawn
        corrections=_corrections(opened),
        edit=edit_view(edits_of(state, opened), Finder(opened.review)),
        files=FILES,
        how_scored=HOW,
    )


def _about(
    state: PageState,
    opened: OpenReview,
    item: str,
    problem: InputError | None = None,
    entered: Form | None = None,
) -> Response:
    card = find_card(opened.review, item, _corrections(opened))
    if card is None:
        raise HTTPException(HTTPStatus.NOT_FOUND, NOT_THERE)
    address = f"/reviews/{opened.stored.id}"
    return state.render(
        "about_item.html",
        status=HTTPStatus.UNPROCESSABLE_ENTITY if problem else HTTPStatus.OK,
        title=opened.stored.title,
        address=address,
        base=address,
        card=card,
        problem=str(problem) if problem else "",
        entered=entered or Form(),
        plan_move=PLAN_MOVE,
        other_move=OTHER_MOVE,
        no_move=NO_MOVE,
    )
