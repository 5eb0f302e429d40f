"""Forget a class on the page: all that the command of that name deletes, and says."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import Response

from reviewkit.kept.forgetting import (
    BEYOND_REACH,
    Forgettable,
    look_up,
    say_forgotten,
    say_found,
    what_is_left,
)
from reviewkit.store import Missing
from reviewkit.web.state import PageState
from reviewkit.web.uploads import SentForm


def router(state: PageState) -> APIRouter:
    """Give the routes of forgetting a class."""
    routes = APIRouter()

    @routes.get("/reviews/{review_id}/forget")
    def ask(review_id: int) -> Response:
        """Show what would be deleted, and ask."""
        found = _found(state, review_id)
        return state.render(
            "forget.html", found=found, said=say_found(found), beyond_reach=BEYOND_REACH
        )

    @routes.post("/reviews/{review_id}/forget")
    def forget(review_id: int, form: SentForm) -> Response:
        """Delete the class for good, with its saved plans where that is wanted."""
        found = _found(state, review_id)
        plans = found.plans if form.text("with_plan") else ()
        is_clean = state.store.forget(review_id, [one.id for one in plans])
        state.heard.drop(review_id)
        state.concluded.drop(review_id)
        return state.render(
            "forgotten.html",
            said=say_forgotten(found, state.store, is_plan_gone=bool(plans)),
            problem="" if is_clean else what_is_left(state.store),
            beyond_reach=BEYOND_REACH,
        )

    return routes


def _found(state: PageState, review_id: int) -> Forgettable:
    known = next((one for one in state.store.list_reviews() if one.id == review_id), None)
    if known is None:
        raise Missing("review", review_id)
    return look_up(state.store, known)
