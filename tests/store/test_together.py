"""Several windows and programs write at once, and programs are killed: nothing is lost."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

from reviewkit.store import FILE_NAME, Store, open_store
from reviewkit.store.versions import STEPS
from tests.store.build import A_CORRECTION, A_REVIEW, titled
from tests.store.old_files import old_file, shape

ROOT = Path(__file__).parents[2]
EACH = 25


def start_writer(folder: Path, name: str, many: int) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "tests.store.writer", str(folder), name, str(many)]
    return subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True)


def titles(store: Store) -> list[str]:
    return sorted(one.title for one in store.list_reviews())


def assert_whole(path: Path) -> None:
    with closing(sqlite3.connect(path)) as file:
        assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert file.execute("PRAGMA foreign_key_check").fetchall() == []


def test_threads_lose_nothing(tmp_path: Path) -> None:
    expected = sorted(f"{name} {at}" for name in "abcd" for at in range(EACH))
    with open_store(tmp_path) as store:

        def write(title: str) -> int:
            review_id = store.add_review(titled(title))
            store.add_correction(review_id, A_CORRECTION)
            return review_id

        with ThreadPoolExecutor(4) as pool:
            ids = [*pool.map(write, expected)]
        assert len(set(ids)) == len(expected)
        assert titles(store) == expected
        assert all(len(store.list_corrections(one)) == 1 for one in ids)


def test_two_windows_of_one_review_lose_no_correction(tmp_path: Path) -> None:
    with open_store(tmp_path) as one, open_store(tmp_path) as other:
        review_id = one.add_review(A_REVIEW)

        def correct(at: int) -> int:
            return (one, other)[at % 2].add_correction(review_id, A_CORRECTION)

        with ThreadPoolExecutor(4) as pool:
            ids = {*pool.map(correct, range(2 * EACH))}
        assert {kept.id for kept in one.list_corrections(review_id)} == ids
        assert len(ids) == 2 * EACH


def test_the_same_plan_saved_at_once_is_kept_once(tmp_path: Path) -> None:
    with open_store(tmp_path) as store, ThreadPoolExecutor(4) as pool:
        saved = {*pool.map(lambda at: store.save_plan(f"title {at}", "move,work"), range(EACH))}
        assert saved == {store.list_plans()[0].id}


def test_windows_that_make_the_file_at_once_all_open_it(tmp_path: Path) -> None:
    """The moment at which one of them is in another's way is short: it takes many tries."""
    for at in range(60):
        with ThreadPoolExecutor(6) as pool:
            for store in pool.map(open_store, [tmp_path / str(at)] * 6):
                assert store.list_reviews() == ()
                store.close()


def test_programs_that_start_and_write_at_once_lose_nothing(tmp_path: Path) -> None:
    writers = [start_writer(tmp_path, name, EACH) for name in "abc"]
    for writer in writers:
        writer.communicate(timeout=60)
    assert [writer.returncode for writer in writers] == [0, 0, 0]
    with open_store(tmp_path) as store:
        assert titles(store) == sorted(f"{name} {at}" for name in "abc" for at in range(EACH))
        assert all(len(store.list_corrections(one.id)) == 1 for one in store.list_reviews())
    assert_whole(tmp_path / FILE_NAME)


@pytest.mark.parametrize("after", [1, 8, 30])
def test_a_killed_program_loses_at_most_the_write_in_flight(tmp_path: Path, after: int) -> None:
    with start_writer(tmp_path, "a", 0) as writer:
        assert writer.stdout is not None
        said = [writer.stdout.readline().strip() for _ in range(after)]
        writer.kill()
        said += writer.stdout.read().splitlines()
    with open_store(tmp_path) as store:
        kept = titles(store)
        assert set(said) <= set(kept)
        assert len(kept) <= len(said) + 1
        store.add_review(A_REVIEW)
    assert_whole(tmp_path / FILE_NAME)


KILLED_WHILE_MIGRATING = """
import os, signal, sys
from pathlib import Path
from reviewkit.store import connecting, open_store

def migrate(connection, path):
    real(connection, path)
    os.kill(os.getpid(), signal.SIGKILL)

real, connecting.migrate = connecting.migrate, migrate
open_store(Path(sys.argv[1]))
"""


@pytest.mark.parametrize("version", range(len(STEPS)))
def test_a_program_killed_while_it_migrates_leaves_the_old_file(
    tmp_path: Path, version: int
) -> None:
    path = tmp_path / FILE_NAME
    if version:
        old_file(tmp_path, version)
        before = shape(path)
    killed = subprocess.run(
        [sys.executable, "-c", KILLED_WHILE_MIGRATING, str(tmp_path)], cwd=ROOT, check=False
    )
    assert killed.returncode < 0
    if version:
        assert shape(path) == before
    with open_store(tmp_path) as store:
        assert len(store.list_reviews()) == (2 if version else 0)
    assert_whole(path)
