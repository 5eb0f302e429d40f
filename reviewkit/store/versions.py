"""The versions of the file, and the steps that lead from each to the next.

A step that has been released is never changed: files were made by it. A change of the
tables is a new step at the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sqlalchemy import Connection

from reviewkit.errors import InputError

# Written into every file of ours, so that another program's is known by not having it.
APPLICATION_ID = int.from_bytes(b"RvKt", "big")

Step = tuple[str, ...]

# AUTOINCREMENT: an id that a window still shows must never come to mean something else.
STEPS: tuple[Step, ...] = (
    (
        """CREATE TABLE reviews (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            title TEXT NOT NULL,
            made_at VARCHAR NOT NULL,
            transcript_name TEXT NOT NULL,
            transcript BLOB NOT NULL,
            plan_name TEXT NOT NULL,
            plan_text TEXT NOT NULL,
            is_drafted BOOLEAN NOT NULL,
            scores TEXT NOT NULL,
            picture TEXT NOT NULL,
            tolerance_ms INTEGER,
            program TEXT NOT NULL
        )""",
        """CREATE TABLE plans (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            title TEXT NOT NULL,
            text TEXT NOT NULL,
            digest VARCHAR NOT NULL UNIQUE,
            saved_at VARCHAR NOT NULL
        )""",
    ),
    (
        """CREATE TABLE corrections (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            review_id INTEGER NOT NULL REFERENCES reviews (id) ON DELETE CASCADE,
            made_at VARCHAR NOT NULL,
            kind VARCHAR NOT NULL,
            payload TEXT NOT NULL
        )""",
        "CREATE INDEX ix_corrections_review_id ON corrections (review_id)",
        """CREATE TABLE lexicon_lines (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            file TEXT NOT NULL,
            line TEXT NOT NULL,
            added_at VARCHAR NOT NULL,
            UNIQUE (file, line)
        )""",
    ),
    ("ALTER TABLE reviews ADD COLUMN document TEXT",),
    (
        "ALTER TABLE reviews ADD COLUMN digest VARCHAR",
        "CREATE UNIQUE INDEX ix_reviews_digest ON reviews (digest)",
    ),
)

_MAGIC = b"SQLite format 3\x00"
_HEADER_BYTES = 100
_VERSION_AT = 60
_APPLICATION_AT = 68


def check_header(path: Path) -> None:
    """Refuse a file that this program did not write, or cannot read, without touching it.

    Offsets are those of the database header, https://www.sqlite.org/fileformat2.html.

    Raises:
        InputError: It is no SQLite file, another program's or a newer version's.
        OSError: It cannot be read.
    """
    with path.open("rb") as file:
        header = file.read(_HEADER_BYTES)
    # A first write that was cut short: SQLite takes it back when the file is opened.
    if not header or path.with_name(f"{path.name}-journal").exists():
        return
    if len(header) < _HEADER_BYTES or not header.startswith(_MAGIC):
        raise InputError(
            str(path), None,
            "is no store of reviews, or is damaged; put a copy of it from a backup in its place, "
            "or move it away to start with an empty one",
        )  # fmt: skip
    _check_application(path, _number(header, _APPLICATION_AT))
    check_version(path, _number(header, _VERSION_AT))


def _number(header: bytes, at: int) -> int:
    return int.from_bytes(header[at : at + 4], "big")


def _check_application(path: Path, application: int) -> None:
    if application != APPLICATION_ID:
        raise InputError(
            str(path), None, "belongs to another program; choose another folder with --data"
        )


def check_version(path: Path | str, version: int, steps: Sequence[Step] = STEPS) -> None:
    """Refuse a file whose version is above the last step's.

    Raises:
        InputError: Says which versions the file and the program have, and what to do.
    """
    if version > len(steps):
        raise InputError(
            str(path), None,
            f"was written by a newer Reviewkit (version {version} of the file; this one knows "
            f"{len(steps)}); update Reviewkit, or choose another folder with --data",
        )  # fmt: skip


def migrate(connection: Connection, path: Path, steps: Sequence[Step] = STEPS) -> None:
    """Bring a file, or one that is still empty, to the newest version.

    Args:
        connection: In a transaction that holds the right to write, so that of two
            programs that start at once one migrates and the other finds it done.
        path: The file, for errors.
        steps: From the first version on.

    Raises:
        InputError: The file is another program's, or a newer version's.
    """
    version = _pragma(connection, "user_version")
    application = _pragma(connection, "application_id")
    is_new = not version and not application and _is_empty(connection)
    if not is_new:
        _check_application(path, application)
    check_version(path, version, steps)
    if version == len(steps):
        return
    for step in steps[version:]:
        for statement in step:
            connection.exec_driver_sql(statement)
    connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.exec_driver_sql(f"PRAGMA user_version = {len(steps)}")


def _pragma(connection: Connection, name: str) -> int:
    return int(connection.exec_driver_sql(f"PRAGMA {name}").scalar_one())


def _is_empty(connection: Connection) -> bool:
    return not connection.exec_driver_sql("SELECT count(*) FROM sqlite_schema").scalar_one()
