"""The coach's own lexicon lines: seen, added and taken back."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from http import HTTPStatus

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from reviewkit.errors import InputError, InputErrors, ReviewkitError
from reviewkit.model import Lexicon, Point, PointKind
from reviewkit.read import POINTS_FILE, lexicon_file_names, read_lexicon
from reviewkit.read.lexicon import NO_LABEL
from reviewkit.report.wording import quote
from reviewkit.store import LexiconLine
from reviewkit.web.offers import LINES_FILE, lexicon_line
from reviewkit.web.state import PageState
from reviewkit.web.uploads import SentForm

MAX_LINE_CHARS = 500
KINDS: tuple[tuple[PointKind, str], ...] = (("safety", "Safety"), ("form", "Form"))


@dataclass(frozen=True, slots=True)
class _Entered:
    """What was entered for a new line, and what is wrong with it."""

    file: str = LINES_FILE
    line: str = ""
    phrase: str = ""
    label: str = ""
    problem: str = ""


NOTHING_ENTERED = _Entered()


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
        phrase, label = form.text("phrase").strip(), form.text("label").strip()
        line = form.text("line").strip() or (phrase and lexicon_line(phrase, label))
        try:
            _check(state, file, line)
        except ReviewkitError as error:
            entered = _Entered(file, form.text("line"), phrase, label, _said(error))
            return _screen(state, entered, HTTPStatus.UNPROCESSABLE_ENTITY)
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
    state: PageState, entered: _Entered = NOTHING_ENTERED, status: int = HTTPStatus.OK
) -> Response:
    lines = state.store.list_lexicon_lines()
    lexicon = _lexicon_with(lines)
    return state.render(
        "lexicon.html",
        status=status,
        lines=[(one, tell_line(one.file, one.line, lexicon)) for one in lines],
        points=[
            (name, sorted((one for one in lexicon.points if one.kind == kind), key=_say))
            for kind, name in KINDS
        ],
        files=lexicon_file_names(),
        lines_file=LINES_FILE,
        entered=entered,
        most_chars=MAX_LINE_CHARS,
    )


def _lexicon_with(lines: Sequence[LexiconLine]) -> Lexicon:
    """Read the lexicon with the coach's own lines, without them where they do not fit any more."""
    try:
        return read_lexicon(own_lines=[(one.file, one.line) for one in lines])
    except ReviewkitError:
        return read_lexicon()


def _say(point: Point) -> str:
    return point.say.casefold()


def tell_line(file: str, line: str, lexicon: Lexicon) -> str:
    """Say what a line of the coach's own means, nothing where its table has other columns."""
    if file == POINTS_FILE:
        point_id = line.partition("=")[0].strip().strip('"')
        own = next((one for one in lexicon.points if one.id == point_id), None)
        return f"{quote(own.say)}, a point of your own: {_either(own.phrases)}" if own else ""
    if file != LINES_FILE:
        return ""
    words, label, *_ = [*next(csv.reader([line]), []), "", ""]
    if label.strip() == NO_LABEL:
        return f"{quote(words)} does not count any more"
    say = next((one.say for one in lexicon.points if one.id == label.strip()), label)
    return f"{quote(words)} is a way of saying {quote(say)}"


def _either(wordings: Sequence[str]) -> str:
    return ", ".join(map(quote, wordings)) or "no words of it yet"


def _check(state: PageState, file: str, line: str) -> None:
    if file not in (*lexicon_file_names(), POINTS_FILE):
        raise InputError("file", None, "is none of the lexicon's; pick one of the list")
    if not line or len(line) > MAX_LINE_CHARS or len(line.splitlines()) > 1:
        raise InputError("line", None, f"needs one line of 1 to {MAX_LINE_CHARS} characters")
    if line.startswith("#"):
        raise InputError("line", None, "starts with #, which makes it a remark; leave that out")
    kept = [(one.file, one.line) for one in state.store.list_lexicon_lines()]
    # Read alone first, so that what is wrong is said of this line and no other.
    alone = read_lexicon(own_lines=[(file, line)])
    _check_points(alone, read_lexicon(own_lines=[*kept, (file, line)]))


def _check_points(alone: Lexicon, whole: Lexicon) -> None:
    known = {point.id for point in whole.points} | {NO_LABEL}
    for one in alone.lists.get("point_lines", ()):
        if one.label not in known:
            near = get_close_matches(one.label, known, n=1)
            hint = f'did you mean "{near[0]}"?' if near else "write a point's id, as in points.toml"
            raise InputError("line", None, f'point "{one.label}" is not known; {hint}')


def _said(error: ReviewkitError) -> str:
    """Say what is wrong without the line's number in a table that nobody sees."""
    if isinstance(error, InputErrors):
        return "; ".join(one.problem for one in error.errors)
    return error.problem if isinstance(error, InputError) else str(error)
