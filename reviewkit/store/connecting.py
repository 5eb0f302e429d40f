"""Connections to the file: opened with care, and what goes wrong said in plain words."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection, DBAPICursor
from sqlalchemy.exc import DBAPIError, InterfaceError, OperationalError
from sqlalchemy.pool import ConnectionPoolEntry

from reviewkit.errors import InputError
from reviewkit.store.versions import APPLICATION_ID, check_header, migrate

BUSY_TIMEOUT_S = 10

# A file, or the name of a database on a server.
Place = Path | str

_ELSEWHERE = "or choose another folder with --data"
_PROBLEMS = {
    sqlite3.SQLITE_BUSY: f"has been in use by another program for {BUSY_TIMEOUT_S} s; "
    "close that program, or try again",
    sqlite3.SQLITE_CANTOPEN: "cannot be opened; see that you may write in its folder, "
    f"{_ELSEWHERE}",
    sqlite3.SQLITE_CORRUPT: "is damaged; put a copy of it from a backup in its place, "
    "or move it away to start with an empty one",
    sqlite3.SQLITE_FULL: "cannot grow, as the disk is full; make room and try again",
    sqlite3.SQLITE_IOERR: "cannot be read or written; see that its disk is there and sound",
    sqlite3.SQLITE_READONLY: f"may not be written; allow it, {_ELSEWHERE}",
}
_NO_RIGHT = "42501"  # PostgreSQL's insufficient_privilege
_PROBLEMS[sqlite3.SQLITE_LOCKED] = _PROBLEMS[sqlite3.SQLITE_BUSY]
_PROBLEMS[sqlite3.SQLITE_NOTADB] = _PROBLEMS[sqlite3.SQLITE_CORRUPT]
_PROBLEMS[sqlite3.SQLITE_PERM] = _PROBLEMS[sqlite3.SQLITE_CANTOPEN]


def connect(path: Path) -> Engine:
    """Open the file, make it if it is not there, and bring it to the newest version.

    Raises:
        InputError: It cannot be used; it then stays as it was.
    """
    try:
        check_header(path)
    except FileNotFoundError:
        pass
    except OSError as error:
        raise InputError(str(path), None, _unreadable(path, error)) from None
    engine = _engine(path)
    try:
        with writing(engine, path) as connection:
            migrate(connection, path)
        # Not before the first version is in it: its header alone must tell whose it is.
        with _plainly(path), closing(engine.raw_connection()) as raw:
            _keep_a_log(raw.cursor())
    except BaseException:
        engine.dispose()
        raise
    return engine


def _unreadable(path: Path, error: OSError) -> str:
    if path.is_dir():
        return f"is a folder where a file has to be; move it away, {_ELSEWHERE}"
    reason = (error.strerror or str(error)).lower()
    return f"cannot be read: {reason}; see that you may read it, {_ELSEWHERE}"


def _engine(path: Path) -> Engine:
    engine = create_engine(
        URL.create("sqlite", database=str(path.absolute())),
        connect_args={"timeout": BUSY_TIMEOUT_S},
    )
    event.listen(engine, "connect", _set_up)
    event.listen(engine, "begin", _begin)
    return engine


def _set_up(connection: DBAPIConnection, _entry: ConnectionPoolEntry) -> None:
    # No transactions but ours: the driver's own begin too late to be seen by others.
    connection.isolation_level = None
    cursor = connection.cursor()
    cursor.execute("PRAGMA foreign_keys = ON")
    cursor.execute("PRAGMA synchronous = FULL")
    # What is deleted is overwritten in its place: a coach's words are gone, not only unlisted.
    cursor.execute("PRAGMA secure_delete = ON")
    cursor.close()


def _keep_a_log(cursor: DBAPICursor) -> None:
    """Let the file be read while it is written, from now on: the choice is kept in it.

    Where others open the file at the same moment SQLite does not wait for its turn by
    itself, as it does for everything else.
    """
    until_s = time.monotonic() + BUSY_TIMEOUT_S
    while True:
        try:
            cursor.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError as error:
            is_busy = _primary(error) == sqlite3.SQLITE_BUSY
            if not is_busy or until_s < time.monotonic():
                raise
        time.sleep(0.01)


def _begin(connection: Connection) -> None:
    connection.exec_driver_sql(connection.get_execution_options().get("begin_by", "BEGIN"))


@contextmanager
def reading(engine: Engine, path: Place) -> Iterator[Connection]:
    """Give a connection that sees the file as it is now, whoever writes meanwhile.

    Raises:
        InputError: The file cannot be read.
    """
    with _plainly(path), engine.begin() as connection:
        yield connection


@contextmanager
def writing(engine: Engine, path: Place) -> Iterator[Connection]:
    """Give a connection that alone may write, from the start: what it reads stays true.

    Raises:
        InputError: The file cannot be written; nothing of the transaction is kept.
    """
    alone = engine.execution_options(begin_by="BEGIN IMMEDIATE")
    with _plainly(path), alone.begin() as connection:
        if engine.dialect.name == "postgresql":
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({APPLICATION_ID})")
        yield connection


def wipe(engine: Engine, path: Place) -> bool:
    """Write the file anew without its free pages, and empty its log.

    Returns:
        Whether all of it was done; another program that reads at the same moment keeps
        the log from being emptied until it has closed the file.

    Raises:
        InputError: The file cannot be written; it is as good as before.
    """
    if engine.dialect.name == "postgresql":
        return False  # What becomes of a server's pages and logs is in its keeper's hands.
    with _plainly(path), closing(engine.raw_connection()) as raw:
        cursor = raw.cursor()
        cursor.execute("VACUUM")
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        answer = cursor.fetchone()
        return answer is not None and not answer[0]


@contextmanager
def _plainly(path: Place) -> Iterator[None]:
    """Say what the file or its disk is to blame for; the rest is ours and goes on."""
    try:
        yield
    except (DBAPIError, sqlite3.Error) as error:
        cause = error.orig if isinstance(error, DBAPIError) else error
        problem = _PROBLEMS.get(_primary(cause)) or _server_problem(error)
        if problem is None:
            raise
        raise InputError(str(path), None, problem) from error


def _server_problem(error: Exception) -> str | None:
    """Say what is the matter with a server; None where that is not it."""
    if isinstance(error, OperationalError | InterfaceError) and not _primary(error.orig):
        reason = str(error.orig).strip().splitlines() or ["no answer"]
        return f"cannot be used: {reason[-1].strip()}; see that its server runs and lets you in"
    if getattr(getattr(error, "orig", None), "sqlstate", "") == _NO_RIGHT:
        return "may not be written by this user; let an owner of the database allow it"
    return None


def _primary(error: BaseException | None) -> int:
    """Give SQLite's code of an error without its finer part; 0 where it has none."""
    return getattr(error, "sqlite_errorcode", 0) & 0xFF
