"""Read what a coach enters to put a review right."""

from __future__ import annotations

from collections.abc import Callable

from reviewkit.errors import InputError
from reviewkit.model import (
    Correction,
    DoneInterval,
    EdgeName,
    Interval,
    MarkedPoint,
    MovedEdge,
    NamedMove,
    Review,
    SetAside,
    Word,
)
from reviewkit.report.script import script
from reviewkit.report.wording import clean
from reviewkit.web.cards import clock_fields, lines_of
from reviewkit.web.corrected_views import findings_by_key

# A field's text by its name, empty when it was not sent.
Field = Callable[[str], str]

PLAN_MOVE, OTHER_MOVE, NO_MOVE = "plan:", "other", "none"
MAX_TEXT_CHARS = 400
MAX_MINUTES = 600


def read_corrections(field: Field, review: Review) -> tuple[Correction, ...]:
    """Read the corrections of one form; none when nothing was said otherwise.

    Raises:
        InputError: A field cannot be used; the source is the name that it has on the screen.
    """
    readers = {"edges": _edges, "done": _done, "move": _move, "point": _point, "aside": _aside}
    reader = readers.get(field("correct"))
    if reader is None:
        raise InputError("correction", None, "is of no known kind; open the review anew")
    return reader(field, review)


def _interval(field: Field, review: Review) -> Interval:
    wanted = field("interval")
    for one in review.heard.intervals:
        if one.id == wanted and one.start and one.end:
            return one
    raise InputError("interval", None, "is no longer there; open the review anew")


def _done(field: Field, review: Review) -> tuple[Correction, ...]:
    wanted = field("interval")
    if not any(one.id == wanted for one in review.heard.intervals):
        raise InputError("interval", None, "is no longer there; open the review anew")
    return (DoneInterval(wanted, *_from_to(field)),)


def _from_to(field: Field) -> tuple[int, int]:
    start_ms, end_ms = _moment(field, "start", "Began"), _moment(field, "end", "Ended")
    if end_ms <= start_ms:
        raise InputError("Ended", None, "must lie after the moment at which the interval began")
    return start_ms, end_ms


def _edges(field: Field, review: Review) -> tuple[Correction, ...]:
    one = _interval(field, review)
    start_ms, end_ms = _from_to(field)
    edges: tuple[tuple[EdgeName, int, int], ...] = (
        ("start", start_ms, one.start.at_ms if one.start else 0),
        ("end", end_ms, one.end.at_ms if one.end else 0),
    )
    moved = [
        MovedEdge(one.id, name, new_ms)
        for name, new_ms, old_ms in edges
        if clock_fields(new_ms) != clock_fields(old_ms)
    ]
    if not moved:
        raise InputError("Began and Ended", None, "are as before; change one of them")
    return tuple(moved)


def _moment(field: Field, name: str, label: str) -> int:
    try:
        minutes = int(field(f"{name}_minutes").strip() or "0")
        seconds = float(field(f"{name}_seconds").strip().replace(",", ".") or "0")
        at_ms = round(60_000 * minutes + 1000 * seconds)
    except (ValueError, OverflowError):
        raise InputError(label, None, "must be minutes and seconds, such as 4 and 12.5") from None
    if not (0 <= minutes <= MAX_MINUTES and 0 <= seconds < 60):
        raise InputError(label, None, f"takes 0 to {MAX_MINUTES} minutes and 0 to 59.9 seconds")
    return at_ms


def _move(field: Field, review: Review) -> tuple[Correction, ...]:
    one = _interval(field, review)
    choice = field("move")
    if choice == NO_MOVE:
        return (NamedMove(one.id, ""),)
    name = field("other") if choice == OTHER_MOVE else choice.removeprefix(PLAN_MOVE)
    name = clean(name)[:MAX_TEXT_CHARS] if choice == OTHER_MOVE else name
    if not name:
        raise InputError("Another move", None, "needs a name; write what was done")
    if choice != OTHER_MOVE and name not in {row.move for row in review.heard.plan.rows}:
        raise InputError("Move", None, "is none of the plan's; choose another move and write it")
    return (NamedMove(one.id, name),)


def _point(field: Field, review: Review) -> tuple[Correction, ...]:
    move, point = field("of_move"), field("point")
    if not any(
        one.move == move and any(each.point == point for each in one.points)
        for one in review.findings.moves
    ):
        raise InputError("point", None, "is no longer there; open the review anew")
    if field("verdict") == "missing":
        return (MarkedPoint(move, point, "missing"),)
    at_text = field("line")
    if not at_text:
        raise InputError("Line", None, "is not chosen; choose the line that gave the point")
    lines = {str(at_ms): text for at_ms, text in lines_of(script(review))}
    if at_text not in lines:
        raise InputError("Line", None, "is no longer there; open the review anew")
    at_ms, text = int(at_text), lines[at_text]
    if words := field("words"):
        at_ms, text = _words_in_line(words, at_ms, text, review.heard.talk.words)
    return (MarkedPoint(move, point, "said", at_ms, clean(text)),)


def _words_in_line(words: str, line_ms: int, line: str, talk: tuple[Word, ...]) -> tuple[int, str]:
    """Find some of a line's words in it: when they begin, and as they were heard."""
    first = next(at for at, word in enumerate(talk) if word.start_ms == line_ms)
    spoken = talk[first : first + len(line.split())]
    wanted = [_bare(word) for word in words.split() if _bare(word)]
    heard = [_bare(word.text) for word in spoken]
    for at in range(len(heard) - len(wanted) + 1):
        if wanted and heard[at : at + len(wanted)] == wanted:
            found = spoken[at : at + len(wanted)]
            return found[0].start_ms, " ".join(word.text for word in found)
    raise InputError("Only these words", None, "must stand in the chosen line as they are there")


def _bare(word: str) -> str:
    return "".join(letter for letter in word.lower() if letter.isalnum())


def _aside(field: Field, review: Review) -> tuple[Correction, ...]:
    reason = clean(field("reason"))[:MAX_TEXT_CHARS]
    if not reason:
        raise InputError("Reason", None, "is empty; say in a few words why this is set aside")
    finding = field("finding")
    if finding not in findings_by_key(review):
        raise InputError("finding", None, "is no longer there; open the review anew")
    return (SetAside(finding, reason),)
