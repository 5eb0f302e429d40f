"""Take a review into the edit: the files that the command makes, one by one or all in one."""

from __future__ import annotations

from http import HTTPStatus

from fastapi import APIRouter, HTTPException
from fastapi.responses import Response

from reviewkit.edits import FILES, Edits, edit_archive, make_edits, parse_rate
from reviewkit.edits.timecode import USUAL_RATE, FrameRate
from reviewkit.kept.looking_back import own_words_of
from reviewkit.web.edit_view import ARCHIVE
from reviewkit.web.files import as_download
from reviewkit.web.opening import OpenReview, open_review
from reviewkit.web.state import PageState

NO_SUCH_FILE = "There is no file of that name for the edit."


def router(state: PageState) -> APIRouter:
    """Give the routes of the edit's files."""
    routes = APIRouter()

    @routes.get("/reviews/{review_id}/edit/{name:path}")
    def take(review_id: int, name: str, rate: str = USUAL_RATE.name) -> Response:
        """Send one file for the edit, or all of them in one."""
        opened = open_review(state, review_id)
        if name not in FILES and name != ARCHIVE:
            raise HTTPException(HTTPStatus.NOT_FOUND, NO_SUCH_FILE)
        edits = edits_of(state, opened, parse_rate(rate))
        made = edit_archive(edits) if name == ARCHIVE else FILES[name].make(edits)
        return as_download(made, opened.stored.title, name)

    return routes


def edits_of(state: PageState, opened: OpenReview, rate: FrameRate = USUAL_RATE) -> Edits:
    """Make what a review takes into the edit, with the coach's words of the other classes."""
    own = own_words_of(state.store, opened.review.transcript)
    return make_edits(opened.review, rate=rate, own=own)
