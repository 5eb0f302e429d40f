"""Every file that was ever written opens, with all that is in it."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy.exc import OperationalError

from reviewkit.errors import InputError
from reviewkit.store import FILE_NAME, SavedPlan, StoredReview, open_store
from reviewkit.store.connecting import connect, writing
from reviewkit.store.versions import APPLICATION_ID, STEPS, migrate
from tests.store.build import A_CORRECTION, A_REVIEW
from tests.store.old_files import ROWS, old_file, shape

EARLIER = range(1, len(STEPS))
OLD_REVIEW = StoredReview(
    title="Tuesday circuit",
    made_at=datetime(2024, 5, 7, 18, 30, 0, 125, tzinfo=UTC),
    transcript_name="tuesday.vtt",
    transcript=b"\x00\xff",
    plan_name="tuesday.csv",
    plan_text="move,work\nSquat,45s\n",
    is_drafted=True,
    scores={"timing": 81.5, "density": None},
    picture="<svg/>",
    tolerance_ms=None,
    program="0.1.0",
    id=3,
)
OLD_PLAN = SavedPlan(2, "Tuesday", "move,work", datetime(2024, 5, 7, 18, 29, tzinfo=UTC))

every_earlier_version = pytest.mark.parametrize("version", EARLIER)


def everything(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


# --- from earlier versions -----------------------------------------------------------------


def test_every_earlier_version_has_rows_to_migrate() -> None:
    assert set(ROWS) == {*EARLIER}


@every_earlier_version
def test_what_is_in_an_old_file_stays(tmp_path: Path, version: int) -> None:
    old_file(tmp_path, version)
    with open_store(tmp_path) as store:
        assert [one.title for one in store.list_reviews()] == ["Plié", "Tuesday circuit"]
        assert store.get_review(3) == OLD_REVIEW
        assert store.list_plans() == (OLD_PLAN,)


@every_earlier_version
def test_an_old_file_takes_what_new_ones_take(tmp_path: Path, version: int) -> None:
    old_file(tmp_path, version)
    with open_store(tmp_path) as store:
        store.add_correction(3, A_CORRECTION)
        store.add_lexicon_line("points.csv", "sit between your heels")
        assert store.save_plan("Every Tuesday", OLD_PLAN.text) == OLD_PLAN.id
        assert store.add_review(A_REVIEW) == 8
        assert [one.correction for one in store.list_corrections(3)] == [A_CORRECTION]
        store.forget(3)
        assert len(store.list_reviews()) == 2


@every_earlier_version
def test_an_old_file_becomes_like_a_new_one(tmp_path: Path, version: int) -> None:
    (tmp_path / "old").mkdir()
    old_file(tmp_path / "old", version)
    for name in ("old", "new"):
        open_store(tmp_path / name).close()
    assert shape(tmp_path / "old" / FILE_NAME) == shape(tmp_path / "new" / FILE_NAME)


@every_earlier_version
def test_several_windows_may_open_an_old_file_at_once(tmp_path: Path, version: int) -> None:
    path = old_file(tmp_path, version)
    with ThreadPoolExecutor(4) as pool:
        for store in pool.map(open_store, [tmp_path] * 8):
            store.close()
    with closing(sqlite3.connect(path)) as file:
        assert file.execute("PRAGMA user_version").fetchone() == (len(STEPS),)


def test_a_file_of_this_version_is_not_changed_by_opening(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        store.add_review(A_REVIEW)
    before = everything(tmp_path)
    open_store(tmp_path).close()
    assert everything(tmp_path) == before


def test_a_step_that_fails_leaves_the_version_before_it(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        store.add_review(A_REVIEW)
        path = store.path
    before = shape(path)
    engine = connect(path)
    further = (*STEPS, ("CREATE TABLE half_done (id INTEGER)", "CREATE nonsense"))
    with pytest.raises(OperationalError), writing(engine, path) as connection:
        migrate(connection, path, further)
    engine.dispose()
    assert shape(path) == before


# --- files that are refused, and stay as they are ------------------------------------------


def as_text(path: Path) -> None:
    path.write_text("Dear coach, here is the plan for Tuesday.\n" * 50)


def as_short_text(path: Path) -> None:
    path.write_text("x")


def as_cut_header(path: Path) -> None:
    path.write_bytes(b"SQLite format 3\x00" + bytes(20))


def as_zeros(path: Path) -> None:
    path.write_bytes(bytes(8192))


def as_other_program(path: Path) -> None:
    with closing(sqlite3.connect(path)) as file:
        file.execute("CREATE TABLE reviews (id INTEGER PRIMARY KEY, stars INTEGER)")


def as_marked_other_program(path: Path) -> None:
    with closing(sqlite3.connect(path)) as file:
        file.execute("CREATE TABLE notes (text)")
        file.execute("PRAGMA application_id = 252006675")


def as_other_program_still_open(path: Path) -> None:
    with closing(sqlite3.connect(path)) as file:
        file.execute("PRAGMA journal_mode = WAL")
        file.execute("CREATE TABLE notes (text)")
        copies = {one: one.read_bytes() for one in path.parent.iterdir()}
    for one, data in copies.items():
        one.write_bytes(data)


def as_newer(path: Path) -> None:
    with closing(sqlite3.connect(path)) as file:
        file.execute("CREATE TABLE something_new (text)")
        file.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        file.execute(f"PRAGMA user_version = {len(STEPS) + 1}")


@pytest.mark.parametrize(
    ("make", "problem"),
    [
        pytest.param(as_text, "is no store of reviews, or is damaged; .* from a backup", id="text"),
        pytest.param(as_short_text, "is no store of reviews", id="short text"),
        pytest.param(as_cut_header, "is no store of reviews", id="cut header"),
        pytest.param(as_zeros, "is no store of reviews", id="zeros"),
        pytest.param(as_other_program, "another program; .* --data", id="other program"),
        pytest.param(as_marked_other_program, "another program", id="marked other program"),
        pytest.param(as_other_program_still_open, "another program", id="still open"),
        pytest.param(as_newer, r"newer Reviewkit \(version 5 of the file; .* knows 4", id="newer"),
    ],
)
def test_a_file_that_is_not_ours_is_refused_untouched(
    tmp_path: Path, make: Callable[[Path], None], problem: str
) -> None:
    path = tmp_path / FILE_NAME
    make(path)
    before = everything(tmp_path)
    with pytest.raises(InputError, match=problem) as caught:
        open_store(tmp_path)
    assert (caught.value.source, caught.value.line) == (str(path), None)
    assert everything(tmp_path) == before


def test_a_file_of_another_program_is_known_beside_its_journal_too(tmp_path: Path) -> None:
    """A write that was cut short may have changed the header: SQLite is asked in its stead."""
    path = tmp_path / FILE_NAME
    as_other_program(path)
    path.with_name(f"{FILE_NAME}-journal").touch()
    before = path.read_bytes()
    with pytest.raises(InputError, match="another program"):
        open_store(tmp_path)
    assert path.read_bytes() == before


def test_a_newer_version_that_only_its_log_tells_of_is_refused(tmp_path: Path) -> None:
    """A program that was killed leaves its last writes beside the file."""
    open_store(tmp_path).close()
    path = tmp_path / FILE_NAME
    with closing(sqlite3.connect(path)) as file:
        file.execute(f"PRAGMA user_version = {len(STEPS) + 1}")
        with pytest.raises(InputError, match="newer Reviewkit"):
            open_store(tmp_path)
    assert ("version", str(len(STEPS) + 1)) in shape(path)


def test_an_empty_file_is_a_new_one(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).touch()
    with open_store(tmp_path) as store:
        assert store.list_reviews() == ()
