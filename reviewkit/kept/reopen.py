"""Make a review again from what was kept of it: a saved document, or the store."""

from __future__ import annotations

import base64
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from reviewkit.errors import InputError
from reviewkit.kept.keeping import document_of, review_again
from reviewkit.model import Correction, Plan, Review, Transcript
from reviewkit.payloads import from_payload
from reviewkit.prepared import prepared_lexicon
from reviewkit.read import read_bytes
from reviewkit.read.plan_text import read_plan_text
from reviewkit.read.transcript import MAX_BYTES as MAX_TRANSCRIPT_BYTES
from reviewkit.read.transcript import parse_transcript
from reviewkit.review import conclude, hear_class
from reviewkit.store import (
    FILE_NAME,
    Missing,
    Store,
    default_folder,
    is_server,
    open_data,
    open_store,
)

DOCUMENT_NAME = "review.json"
# The transcript in letters, with a generous review around it.
_MAX_DOCUMENT_BYTES = 3 * MAX_TRANSCRIPT_BYTES
_FORMAT = "reviewkit.review/1"
NOTHING_KEPT = (
    "keeps no reviews yet; review a class on the page or with --keep, or name another folder "
    "with --data"
)
# A folder or the address of a database.
Data = str | Path | None


def reopen_review(name: str, *, data: Data = None, lexicon: Path | None = None) -> Review:
    """Make a review again, as it stood when it was kept.

    Args:
        name: Path of a saved review document, or of a report's folder that holds one, or
            the number of a review that the page has kept.
        data: Folder of kept reviews, or address of a database; the user's own folder when
            None.
        lexicon: Folder with word lists of the coach's own.

    Raises:
        InputError: There is no such review, or the document does not hold what it was
            made from.
    """
    path = Path(name)
    if name.isascii() and name.isdecimal() and not path.exists():
        with open_kept(data) as store:
            return _stored_review(store, int(name), lexicon)
    return _document_review(path / DOCUMENT_NAME if path.is_dir() else path, lexicon)


def kept_document(name: str, *, data: Data = None) -> bytes | str:
    """Give the document of a review as it was kept, without making the review again.

    Args:
        name: As for ``reopen_review``.
        data: Folder of kept reviews, or address of a database; the user's own folder when
            None.

    Raises:
        InputError: There is no such review; whether a file holds one is not looked at.
    """
    path = Path(name)
    if name.isascii() and name.isdecimal() and not path.exists():
        with open_kept(data) as store:
            try:
                return document_of(store, int(name))
            except Missing as error:
                raise InputError(str(store.place), None, str(error)) from None
    return read_bytes(path / DOCUMENT_NAME if path.is_dir() else path, _MAX_DOCUMENT_BYTES)


def open_kept(data: Data = None) -> Store:
    """Open the store in a folder, the user's own when None, where there is one already.

    The address of a database on a server is as good as a folder.

    Raises:
        InputError: Nothing is kept there, or it cannot be read.
    """
    if isinstance(data, str) and is_server(data):
        return open_data(data)
    folder = Path(data or default_folder())
    if not has_kept(data):
        raise InputError(str(folder), None, NOTHING_KEPT)
    return open_store(folder)


def has_kept(data: Data = None) -> bool:
    """Tell whether there is a store to open; one on a server counts as being there."""
    if isinstance(data, str) and is_server(data):
        return True
    return (Path(data or default_folder()) / FILE_NAME).exists()


def _stored_review(store: Store, number: int, own: Path | None) -> Review:
    try:
        stored = store.get_review(number)
        corrections = [one.correction for one in store.list_corrections(number)]
    except Missing as error:
        raise InputError(str(store.place), None, str(error)) from None
    lines = [(one.file, one.line) for one in store.list_lexicon_lines()]
    lexicon = prepared_lexicon(own, own_lines=lines)
    return review_again(store, stored, corrections, lexicon)


def _document_review(path: Path, own: Path | None) -> Review:
    transcript, plan, tolerance_ms, corrections = _made_from(path)
    heard = hear_class(transcript, plan, prepared_lexicon(own), tolerance_ms=tolerance_ms)
    return conclude(transcript, heard, corrections, tolerance_ms=tolerance_ms)


def _made_from(path: Path) -> tuple[Transcript, Plan | None, int | None, Sequence[Correction]]:
    """Read out of a saved document what its review was made from."""
    made_from = _read_document(path).get("made_from")
    if made_from is None:
        raise InputError(
            str(path), None, "does not hold what it was made from; review the class again"
        )
    try:
        transcript, plan = made_from["transcript"], made_from["plan"]
        tolerance_s = made_from["tolerance_s"]
        tolerance_ms = None if tolerance_s is None else round(1000 * tolerance_s)
        corrections = [_correction(one) for one in made_from["corrections"]]
        data = base64.b64decode(transcript["base64"], validate=True)
        names = (transcript["name"], plan["name"] if plan else "", plan["text"] if plan else "")
        if not all(isinstance(one, str) for one in names):
            raise TypeError
    except (KeyError, TypeError, ValueError, OverflowError):
        raise InputError(
            str(path), None, "what it was made from is damaged; review the class again"
        ) from None
    return (
        parse_transcript(transcript["name"], data),
        read_plan_text(plan["name"], plan["text"]) if plan else None,
        tolerance_ms,
        corrections,
    )


def _read_document(path: Path) -> dict[str, Any]:
    try:
        found = json.loads(read_bytes(path, _MAX_DOCUMENT_BYTES))
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict) or found.get("format") != _FORMAT:
        raise InputError(
            str(path), None, f"is no review; name a {DOCUMENT_NAME} that reviewkit wrote"
        )
    return found


def _correction(one: dict[str, Any]) -> Correction:
    fields = {**one}
    kind = fields.pop("kind")
    for name, value in fields.items():
        if not isinstance(value, int | None if name.endswith("_ms") else str):
            raise TypeError(name)
    return from_payload(kind, json.dumps(fields))
