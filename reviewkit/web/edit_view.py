"""What the screen of a review shows of the edit: what to do, and the files for it."""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.edits import FILES, RATES, Edits
from reviewkit.edits.records import LineToRecord, Overlay, Renamed, Trim
from reviewkit.edits.wording import (
    notes,
    say_caption,
    say_cut,
    say_lengths,
    say_line,
    say_point,
    say_rate,
    say_renamed,
    say_source,
    say_sum,
    say_trim,
    trim_notes,
)
from reviewkit.report.wording import clean
from reviewkit.web.review_view import Finder
from reviewkit.web.views import Moment

ARCHIVE = "edit.zip"


@dataclass(frozen=True, slots=True)
class EditItem:
    """Something to do in the edit, its moment, and how, in lines of words."""

    at: Moment
    what: str
    how: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class EditView:
    """The edit of a class in words; ``files`` are names and what each is."""

    sum: str
    lengths: str
    cuts: tuple[EditItem, ...]
    lines: tuple[EditItem, ...]
    captions: tuple[EditItem, ...]
    renamed: tuple[EditItem, ...]
    notes: tuple[str, ...]
    rate: str
    rates: tuple[str, ...]
    archive: str
    files: tuple[tuple[str, str], ...]


def edit_view(edits: Edits, find: Finder) -> EditView:
    """Set out the edit of a class for its screen."""
    rate_note = (f"Lines are timed at {say_rate(edits)}.",) if edits.lines else ()
    return EditView(
        sum=say_sum(edits),
        lengths=say_lengths(edits),
        cuts=tuple(_trim(one, find) for one in edits.trims),
        lines=tuple(_line(one, find) for one in edits.lines),
        captions=tuple(_caption(one, find) for one in edits.filmed.captions),
        renamed=tuple(_renamed(one, find) for one in edits.renamed),
        notes=(*rate_note, *notes(edits), edits.cautions[0]),
        rate=edits.rate.name,
        rates=tuple(RATES),
        archive=ARCHIVE,
        files=tuple((name, file.what) for name, file in FILES.items()),
    )


def _trim(trim: Trim, find: Finder) -> EditItem:
    how = (*map(say_cut, trim.cuts), *trim_notes(trim))
    return EditItem(find.moment(trim.span.start_ms), say_trim(trim), how)


def _line(line: LineToRecord, find: Finder) -> EditItem:
    place = line.slot or line.early
    how = f"{say_line(line)}; {say_source(line)}"
    return EditItem(find.moment(place.start_ms), say_point(line), (how,))


def _caption(one: Overlay, find: Finder) -> EditItem:
    return EditItem(find.moment(one.shown.span.start_ms), say_caption(one), (clean(one.why),))


def _renamed(one: Renamed, find: Finder) -> EditItem:
    return EditItem(find.moment(one.at_ms), say_renamed(one))
