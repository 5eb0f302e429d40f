"""Keep reviews, corrections, plans and the coach's own lexicon lines in one file.

Each method is one transaction: it is done whole or not at all, and what several windows
or programs do at once is done one after the other. Methods may be called from any thread.
All of them raise ``InputError`` where the file cannot be read or written, and ``Missing``
where something asked for by its id is not there.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import fields
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import Self

import platformdirs
from sqlalchemy import (
    ColumnElement,
    Connection,
    Engine,
    RowMapping,
    Table,
    delete,
    insert,
    select,
    update,
)

from reviewkit.errors import InputError
from reviewkit.model import Correction
from reviewkit.payloads import from_payload, to_payload
from reviewkit.store.connecting import Place, connect, reading, wipe, writing
from reviewkit.store.records import (
    LexiconLine,
    Missing,
    NewReview,
    ReviewSummary,
    SavedPlan,
    StoredCorrection,
    StoredReview,
)
from reviewkit.store.server import connect_server, is_server
from reviewkit.store.tables import CORRECTIONS, LEXICON_LINES, PLANS, REVIEWS, as_kept

FILE_NAME = "reviewkit.sqlite3"

_SUMMARY = [REVIEWS.c[one.name] for one in fields(ReviewSummary)]
_PLAN = [PLANS.c[one.name] for one in fields(SavedPlan)]
_MOST_ID = 2**63 - 1


def default_folder() -> Path:
    """Give the folder in which this computer's programs keep the user's data."""
    return Path(platformdirs.user_data_dir("reviewkit", appauthor=False))


def open_store(folder: Path) -> Store:
    """Open the store in a folder; the folder and the file are made when missing.

    A file of an earlier version is brought to the newest one.

    Raises:
        InputError: The folder cannot be made, or the file is damaged, another program's
            or a newer version's. It stays as it was.
    """
    try:
        # What a coach says in class is nobody else's business on this computer.
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise InputError(
            str(folder), None, f"cannot be made a folder: {error.strerror}; choose another one"
        ) from None
    path = folder / FILE_NAME
    return Store(connect(path), path)


def open_data(data: str) -> Store:
    """Open the store in a folder, or on a PostgreSQL server where it is an address.

    Raises:
        InputError: It cannot be used; what is there stays as it was.
    """
    return Store(*connect_server(data)) if is_server(data) else open_store(Path(data))


class Store:
    """The coach's reviews in one file; made by ``open_store``, closed by ``close`` or ``with``.

    Attributes:
        place: The file, or the name of the database on its server.
    """

    def __init__(self, engine: Engine, place: Place) -> None:
        self._engine = engine
        self.place = place

    @property
    def is_server(self) -> bool:
        """Whether the reviews lie on a server, whose pages and logs are its keeper's."""
        return not isinstance(self.place, Path)

    @property
    def path(self) -> Path:
        """The file of a store that is one."""
        return Path(self.place)

    def close(self) -> None:
        """Close the file."""
        self._engine.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def _reading(self) -> AbstractContextManager[Connection]:
        return reading(self._engine, self.place)

    def _writing(self) -> AbstractContextManager[Connection]:
        return writing(self._engine, self.place)

    # --- reviews ---------------------------------------------------------------------------

    def add_review(self, review: NewReview) -> int:
        """Keep a review and give its id."""
        values = {one.name: getattr(review, one.name) for one in fields(NewReview)}
        with self._writing() as connection:
            return _add(connection, REVIEWS, values)

    def add_review_once(self, review: NewReview) -> int:
        """Keep a review unless one of its digest is kept, and give the id of that one."""
        values = {one.name: getattr(review, one.name) for one in fields(NewReview)}
        same = select(REVIEWS.c.id).where(REVIEWS.c.digest == review.digest)
        with self._writing() as connection:
            kept = connection.scalar(same)
            return _add(connection, REVIEWS, values) if kept is None else int(kept)

    def find_digest(self, digest: str) -> int | None:
        """Give the id of the review of that digest, None when none is kept."""
        with self._reading() as connection:
            return connection.scalar(select(REVIEWS.c.id).where(REVIEWS.c.digest == digest))

    def has_digest(self, digest: str) -> bool:
        """Tell whether a review of that digest is kept."""
        return self.find_digest(digest) is not None

    def list_reviews(self) -> tuple[ReviewSummary, ...]:
        """Give all reviews, the newest first, without what they were made from."""
        newest_first = select(*_SUMMARY).order_by(REVIEWS.c.made_at.desc(), REVIEWS.c.id.desc())
        with self._reading() as connection:
            return tuple(
                ReviewSummary(**row) for row in connection.execute(newest_first).mappings()
            )

    def get_review(self, review_id: int) -> StoredReview:
        """Give a review with what it was made from."""
        with self._reading() as connection:
            return StoredReview(**_get(connection, REVIEWS, "review", review_id))

    def rename_review(self, review_id: int, title: str) -> None:
        """Give a review another title."""
        renamed = update(REVIEWS).where(_is(REVIEWS, "review", review_id)).values(title=title)
        with self._writing() as connection:
            if not connection.execute(renamed).rowcount:
                raise Missing("review", review_id)

    def refresh_review(
        self, review_id: int, scores: Mapping[str, float | None], picture: str, document: str
    ) -> None:
        """Keep what a review that was judged anew says, and what the list shows of it."""
        values = {"scores": dict(scores), "picture": picture, "document": document}
        refreshed = update(REVIEWS).where(_is(REVIEWS, "review", review_id)).values(values)
        with self._writing() as connection:
            if not connection.execute(refreshed).rowcount:
                raise Missing("review", review_id)

    def get_document(self, review_id: int) -> str | None:
        """Give the document of a review as JSON text; None where it has to be made anew."""
        with self._reading() as connection:
            _check_review(connection, review_id)
            of_review = select(REVIEWS.c.document).where(REVIEWS.c.id == review_id)
            return connection.scalar(of_review)

    def forget(self, review_id: int, plan_ids: Sequence[int] = ()) -> bool:
        """Delete a review and saved plans together, and leave no trace of them in the file.

        Returns:
            Whether the file's log was emptied too; see ``wipe``.
        """
        with self._writing() as connection:
            _delete(connection, REVIEWS, "review", review_id)
            for plan_id in plan_ids:
                _delete(connection, PLANS, "plan", plan_id)
        return self.wipe()

    def wipe(self) -> bool:
        """Overwrite what deleted rows have left in the file and in its log.

        Returns:
            Whether the log was emptied too: not while another program reads the file.
        """
        return wipe(self._engine, self.place)

    # --- corrections -----------------------------------------------------------------------

    def add_correction(self, review_id: int, correction: Correction) -> int:
        """Keep a correction of a review and give its id."""
        kind, payload = to_payload(correction)
        with self._writing() as connection:
            _check_review(connection, review_id)
            values = {
                "review_id": review_id,
                "made_at": datetime.now(UTC),
                "kind": kind,
                "payload": payload,
            }
            _outdate(connection, review_id)
            return _add(connection, CORRECTIONS, values)

    def list_corrections(self, review_id: int) -> tuple[StoredCorrection, ...]:
        """Give the corrections of a review in the order in which they were made."""
        of_review = select(CORRECTIONS).where(CORRECTIONS.c.review_id == review_id)
        with self._reading() as connection:
            _check_review(connection, review_id)
            rows = connection.execute(of_review.order_by(CORRECTIONS.c.id)).mappings()
            return tuple(self._correction(row) for row in rows)

    def undo_correction(self, review_id: int, correction_id: int) -> None:
        """Take one correction of a review back; the others stay."""
        with self._writing() as connection:
            of_review = CORRECTIONS.c.review_id == review_id
            _check_review(connection, review_id)
            _delete(connection, CORRECTIONS, "correction", correction_id, of_review)
            _outdate(connection, review_id)

    def _correction(self, row: RowMapping) -> StoredCorrection:
        try:
            correction = from_payload(row["kind"], row["payload"])
        except ValueError as error:
            raise InputError(
                str(self.place), None, f"{error} that this Reviewkit knows; update Reviewkit"
            ) from None
        return StoredCorrection(row["id"], row["made_at"], correction)

    # --- plans -----------------------------------------------------------------------------

    def save_plan(self, title: str, text: str) -> int:
        """Keep a plan to be picked again and give its id.

        The same text is kept once: it then has the later title and counts as saved anew.
        """
        digest = hashlib.sha256(as_kept(text).encode()).hexdigest()
        values = {"title": title, "saved_at": datetime.now(UTC)}
        with self._writing() as connection:
            kept = connection.scalar(select(PLANS.c.id).where(PLANS.c.digest == digest))
            if kept is None:
                return _add(connection, PLANS, {**values, "text": text, "digest": digest})
            connection.execute(update(PLANS).where(PLANS.c.id == kept).values(values))
            return int(kept)

    def list_plans(self) -> tuple[SavedPlan, ...]:
        """Give all saved plans, the one saved last first."""
        last_first = select(*_PLAN).order_by(PLANS.c.saved_at.desc(), PLANS.c.id.desc())
        with self._reading() as connection:
            return tuple(SavedPlan(**row) for row in connection.execute(last_first).mappings())

    def get_plan(self, plan_id: int) -> SavedPlan:
        """Give a saved plan."""
        with self._reading() as connection:
            row = _get(connection, PLANS, "plan", plan_id)
        return SavedPlan(row["id"], row["title"], row["text"], row["saved_at"])

    def delete_plan(self, plan_id: int) -> None:
        """Delete a saved plan; reviews made with it keep their own copy."""
        with self._writing() as connection:
            _delete(connection, PLANS, "plan", plan_id)

    # --- the coach's own lexicon lines -----------------------------------------------------

    def add_lexicon_line(self, file: str, line: str) -> int:
        """Keep a line for a lexicon file and give its id; the same line is kept once."""
        lines = LEXICON_LINES.c
        same = select(lines.id).where(lines.file == file, lines.line == line)
        with self._writing() as connection:
            kept = connection.scalar(same)
            if kept is not None:
                return int(kept)
            values = {"file": file, "line": line, "added_at": datetime.now(UTC)}
            return _add(connection, LEXICON_LINES, values)

    def list_lexicon_lines(self) -> tuple[LexiconLine, ...]:
        """Give the coach's own lines in the order in which they were added."""
        in_order = select(LEXICON_LINES).order_by(LEXICON_LINES.c.id)
        with self._reading() as connection:
            return tuple(LexiconLine(**row) for row in connection.execute(in_order).mappings())

    def delete_lexicon_line(self, line_id: int) -> None:
        """Delete one of the coach's own lines."""
        with self._writing() as connection:
            _delete(connection, LEXICON_LINES, "lexicon line", line_id)


def _add(connection: Connection, table: Table, values: dict[str, object]) -> int:
    key = connection.execute(insert(table).values(values)).inserted_primary_key
    return int(key[0]) if key else 0


def _get(connection: Connection, table: Table, what: str, row_id: int) -> RowMapping:
    row = connection.execute(select(table).where(_is(table, what, row_id))).mappings().one_or_none()
    if row is None:
        raise Missing(what, row_id)
    return row


def _delete(
    connection: Connection, table: Table, what: str, row_id: int, *where: ColumnElement[bool]
) -> None:
    deleted = connection.execute(delete(table).where(_is(table, what, row_id), *where))
    if not deleted.rowcount:
        raise Missing(what, row_id)


def _is(table: Table, what: str, row_id: int) -> ColumnElement[bool]:
    if not 0 <= row_id <= _MOST_ID:  # more than the file could hold
        raise Missing(what, row_id)
    return table.c.id == row_id


def _check_review(connection: Connection, review_id: int) -> None:
    is_one = _is(REVIEWS, "review", review_id)
    if connection.scalar(select(REVIEWS.c.id).where(is_one)) is None:
        raise Missing("review", review_id)


def _outdate(connection: Connection, review_id: int) -> None:
    """Drop a document that no longer says what its review does."""
    outdated = update(REVIEWS).where(REVIEWS.c.id == review_id).values(document=None)
    connection.execute(outdated)
