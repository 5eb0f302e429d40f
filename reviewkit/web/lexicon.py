"""The coach's own lexicon lines: seen, added and taken back."""

from __future__ import annotations

import csv
import io
from difflib import get_close_matches
from http import HTTPStatus

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from reviewkit.errors import InputError, InputErrors, ReviewkitError
from reviewkit.model import Lexicon
from reviewkit.read import lexicon_file_names, read_lexicon
from reviewkit.read.lexicon import NO_LABEL
from reviewkit.web.state import PageState
from reviewkit.web.uploads import SentForm

MAX_LINE_CHARS = 500
FIRST_FILE = "point_lines.csv"


def router(state: PageState) -> APIRouter:
    """Give the routes of the coach's own lexicon lines."""
    routes = APIRouter()

    @routes.get("/lexicon")
    def show() -> Response:
        """List the coach's own lines."""
        return _screen(state)

    @routes.post("/lexicon")
    def add(form: SentForm) -> Response:
        """Add a line, if the lexicon can be read with it."""
        file = form.text("file")
        line = form.text("line").strip() or _line_of(form.text("phrase"), form.text("label"))
        try:
            _check(state, file, line)
        except ReviewkitError as error:
            status = HTTPStatus.UNPROCESSABLE_ENTITY
            return _screen(state, file=file, line=line, problem=_said(error), status=status)
        state.store.add_lexicon_line(file, line)
        state.heard.clear()
        return RedirectResponse("/lexicon", HTTPStatus.SEE_OTHER)

    @routes.post("/lexicon/{line_id}/delete")
    def delete(line_id: int) -> Response:
        """Take a line back."""
        state.store.delete_lexicon_line(line_id)
        state.heard.clear()
        return RedirectResponse("/lexicon", HTTPStatus.SEE_OTHER)

    return routes


def _screen(
    state: PageState,
    *,
    file: str = FIRST_FILE,
    line: str = "",
    problem: str = "",
    status: int = HTTPStatus.OK,
) -> Response:
    return state.render(
        "lexicon.html",
        status=status,
        lines=state.store.list_lexicon_lines(),
        files=lexicon_file_names(),
        file=file,
        line=line,
        problem=problem,
        most_chars=MAX_LINE_CHARS,
    )


def _line_of(phrase: str, label: str) -> str:
    """Write words and what they stand for as a line of a table."""
    if not phrase.strip():
        return ""
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow([phrase.strip(), label.strip()])
    return out.getvalue()


def _check(state: PageState, file: str, line: str) -> None:
    if file not in lexicon_file_names():
        raise InputError("file", None, "is none of the lexicon's; pick one of the list")
    if not line or len(line) > MAX_LINE_CHARS or len(line.splitlines()) > 1:
        raise InputError("line", None, f"needs one line of 1 to {MAX_LINE_CHARS} characters")
    if line.startswith("#"):
        raise InputError("line", None, "starts with #, which makes it a remark; leave that out")
    kept = [(one.file, one.line) for one in state.store.list_lexicon_lines()]
    # Read alone first, so that what is wrong is said of this line and no other.
    _check_points(read_lexicon(own_lines=[(file, line)]))
    read_lexicon(own_lines=[*kept, (file, line)])


def _check_points(lexicon: Lexicon) -> None:
    known = {point.id for point in lexicon.points} | {NO_LABEL}
    for one in lexicon.lists.get("point_lines", ()):
        if one.label not in known:
            near = get_close_matches(one.label, known, n=1)
            hint = f'did you mean "{near[0]}"?' if near else "write a point's id, as in points.toml"
            raise InputError("line", None, f'point "{one.label}" is not known; {hint}')


def _said(error: ReviewkitError) -> str:
    """Say what is wrong without the line's number in a table that nobody sees."""
    if isinstance(error, InputErrors):
        return "; ".join(one.problem for one in error.errors)
    return error.problem if isinstance(error, InputError) else str(error)
