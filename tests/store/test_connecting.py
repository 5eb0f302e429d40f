"""What goes wrong with the file is said to the coach, and nothing of it is lost."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from sqlalchemy.exc import IntegrityError, OperationalError

from reviewkit.errors import InputError
from reviewkit.store import FILE_NAME, connecting, open_store
from reviewkit.store.connecting import connect, reading, writing
from tests.store.build import A_REVIEW, titled


@contextmanager
def in_use(path: Path) -> Iterator[None]:
    """Hold the right to write, as a program does that is in the middle of it."""
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield
        other.execute("ROLLBACK")


def test_connections_are_careful(tmp_path: Path) -> None:
    path = tmp_path / FILE_NAME
    engine = connect(path)
    with reading(engine, path) as connection:
        settings = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar_one()
            for name in (
                "journal_mode",
                "busy_timeout",
                "foreign_keys",
                "synchronous",
                "secure_delete",
            )
        }
    engine.dispose()
    assert settings == {
        "journal_mode": "wal",
        "busy_timeout": 10_000,
        "foreign_keys": 1,
        "synchronous": 2,
        "secure_delete": 1,
    }


def test_a_file_in_use_is_waited_for_and_then_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(connecting, "BUSY_TIMEOUT_S", 0.2)
    with open_store(tmp_path) as store:
        store.add_review(A_REVIEW)
        with in_use(store.path):
            with pytest.raises(InputError, match="in use by another program"):
                store.add_review(A_REVIEW)
            with pytest.raises(InputError, match="in use by another program"):
                open_store(tmp_path)
            assert len(store.list_reviews()) == 1
        store.add_review(A_REVIEW)
        assert len(store.list_reviews()) == 2


def test_opening_waits_until_others_have_read(tmp_path: Path) -> None:
    """A file without a log, as a copy may be, changes over once nobody reads it."""
    open_store(tmp_path).close()
    path = tmp_path / FILE_NAME
    with (
        closing(sqlite3.connect(path, isolation_level=None, check_same_thread=False)) as other,
        ThreadPoolExecutor(1) as pool,
    ):
        other.execute("PRAGMA journal_mode = DELETE")
        other.execute("BEGIN")
        other.execute("SELECT * FROM plans").fetchall()
        opening = pool.submit(open_store, tmp_path)
        with pytest.raises(TimeoutError):
            opening.result(timeout=0.3)
        other.execute("ROLLBACK")
        with opening.result(timeout=5) as store:
            assert store.list_plans() == ()
    with closing(sqlite3.connect(path)) as later:
        assert later.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def write(path: Path, *statements: str) -> None:
    """Do all of the statements in one transaction, or none."""
    engine = connect(path)
    try:
        with writing(engine, path) as connection:
            for statement in statements:
                connection.exec_driver_sql(statement)
    finally:
        engine.dispose()


A_PLAN = "INSERT INTO plans VALUES (1, 'a', zeroblob(1000000), 'c', 'd')"


def test_a_write_that_fails_half_way_leaves_nothing(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        with pytest.raises(OperationalError, match="nonsense"):
            write(store.path, A_PLAN, "nonsense")
        assert store.list_plans() == ()
        store.save_plan("a", "b")


def test_a_row_that_belongs_to_nothing_is_a_fault_of_ours(tmp_path: Path) -> None:
    with pytest.raises(IntegrityError, match="FOREIGN KEY"):
        write(tmp_path / FILE_NAME, "INSERT INTO corrections VALUES (1, 7, 'a', 'b', 'c')")


@pytest.mark.parametrize(
    ("trouble", "problem"),
    [
        pytest.param("PRAGMA max_page_count = 1", "the disk is full; make room", id="full"),
        pytest.param("PRAGMA query_only = 1", r"may not be written; .* --data", id="read only"),
    ],
)
def test_what_keeps_a_file_from_being_written_is_named(
    tmp_path: Path, trouble: str, problem: str
) -> None:
    with open_store(tmp_path) as store:
        with pytest.raises(InputError, match=problem) as caught:
            write(store.path, trouble, A_PLAN)
        assert caught.value.source == str(store.path)
        assert store.list_plans() == ()


def test_a_damaged_file_is_named(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        for day in range(1, 20):
            store.add_review(titled("long" * 1000, day))
        path = store.path
    data = path.read_bytes()
    damaged = data[:4096] + bytes(255 for _ in data[4096:])
    path.write_bytes(damaged)
    with open_store(tmp_path) as store, pytest.raises(InputError, match=r"damaged; .* backup"):
        store.list_reviews()
    assert path.read_bytes() == damaged


def test_a_cut_file_is_named(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        store.add_review(titled("long" * 5000))
        path = store.path
    path.write_bytes(path.read_bytes()[:5000])
    with pytest.raises(InputError, match="damaged"), open_store(tmp_path) as store:
        store.list_reviews()
    assert path.stat().st_size == 5000


def test_a_folder_that_cannot_be_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(InputError, match=r"cannot be made a folder: .*; choose another one"):
        open_store(tmp_path / "file")
    with pytest.raises(InputError, match="cannot be made a folder"):
        open_store(tmp_path / "file" / "inside")


def test_a_folder_in_the_place_of_the_file_is_named(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).mkdir()
    with pytest.raises(InputError, match=r"is a folder .* move it away, or choose another"):
        open_store(tmp_path)


def test_a_file_that_cannot_be_read_is_named_with_what_to_do(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).symlink_to(tmp_path / FILE_NAME)
    with pytest.raises(InputError, match=r"cannot be read: .* see that you may read it, or choose"):
        open_store(tmp_path)


def test_a_store_is_used_from_any_thread(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        thread = threading.Thread(target=store.add_review, args=[A_REVIEW])
        thread.start()
        thread.join()
        assert len(store.list_reviews()) == 1
