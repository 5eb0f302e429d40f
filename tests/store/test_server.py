"""The store on a real PostgreSQL server holds what it holds in a file."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields, replace
from pathlib import Path

import pytest
from sqlalchemy import MetaData, create_engine

from reviewkit.errors import InputError
from reviewkit.store import Missing, NewReview, open_data
from reviewkit.store.connecting import writing
from reviewkit.store.server import connect_server, migrate_server
from reviewkit.store.tables import METADATA
from reviewkit.store.versions import STEPS
from tests.store.build import A_CORRECTION, A_REVIEW
from tests.store.test_tables import described


def test_a_review_comes_back_as_it_was_kept(database: str) -> None:
    with open_data(database) as store:
        number = store.add_review(replace(A_REVIEW, document="{}"))
        kept = store.get_review(number)
        assert {one.name: getattr(kept, one.name) for one in fields(NewReview)} == {
            one.name: getattr(replace(A_REVIEW, document="{}"), one.name)
            for one in fields(NewReview)
        }
        assert store.get_document(number) == "{}"
        assert [one.id for one in store.list_reviews()] == [number]


def test_everything_that_a_file_does_a_server_does(database: str) -> None:
    with open_data(database) as store:
        number = store.add_review(A_REVIEW)
        correction = store.add_correction(number, A_CORRECTION)
        assert [one.correction for one in store.list_corrections(number)] == [A_CORRECTION]
        store.undo_correction(number, correction)
        store.add_correction(number, A_CORRECTION)
        store.rename_review(number, "Another")
        store.refresh_review(number, {"timing": None}, "<svg/>", "{}")
        plan = store.save_plan("Tuesday", "move,work")
        assert store.save_plan("Tuesday", "move,work") == plan
        line = store.add_lexicon_line("rest.csv", "have a sip")
        assert store.add_lexicon_line("rest.csv", "have a sip") == line
        assert store.get_plan(plan).title == "Tuesday"
        store.delete_plan(plan)
        store.delete_lexicon_line(line)
        assert not store.forget(number)
        for call in (store.get_review, store.get_plan, store.delete_lexicon_line):
            with pytest.raises(Missing):
                call(2**40)


def test_text_of_any_characters_is_kept(database: str) -> None:
    with open_data(database) as store:
        number = store.add_review(replace(A_REVIEW, title="a\0b\udc80", transcript=b"\0\xff"))
        assert (
            store.get_review(number).title == "a\N{REPLACEMENT CHARACTER}b\N{REPLACEMENT CHARACTER}"
        )
        assert store.get_review(number).transcript == b"\0\xff"


def test_a_batch_review_is_kept_once_whoever_keeps_it(database: str) -> None:
    one = replace(A_REVIEW, digest="same")
    with open_data(database) as first, open_data(database) as second:
        with ThreadPoolExecutor(8) as pool:
            at_once = [pool.submit(store.add_review_once, one) for store in (first, second) * 8]
        assert len({each.result() for each in at_once}) == 1
        assert len(first.list_reviews()) == 1
        assert second.has_digest("same")
        assert second.find_digest("same") == first.list_reviews()[0].id
        assert not second.has_digest("other")


# --- versions ------------------------------------------------------------------------------


def test_the_steps_make_the_tables_as_described(database: str) -> None:
    open_data(database).close()
    engine, _ = connect_server(database)
    made = MetaData()
    made.reflect(engine)
    engine.dispose()
    tables = {name: described(table) for name, table in made.tables.items()}
    del tables["reviewkit_versions"]
    ours = {name: described(table) for name, table in METADATA.tables.items()}
    for table in (*tables.values(), *ours.values()):
        # PostgreSQL lists the index of a unique column, too.
        table["indexes"] = {one for one in table["indexes"] if one[0].startswith("ix_")}  # type: ignore[attr-defined]
    assert tables == ours


@pytest.mark.parametrize("version", range(1, len(STEPS)))
def test_every_earlier_version_goes_on(database: str, version: int) -> None:
    engine = create_engine(database)
    with writing(engine, "old") as connection:
        migrate_server(connection, "old", STEPS[:version])
    engine.dispose()
    with open_data(database) as store:
        assert store.add_review(A_REVIEW)


def test_several_may_begin_at_once(database: str) -> None:
    with ThreadPoolExecutor(4) as pool:
        for one in [pool.submit(lambda: open_data(database).close()) for _ in range(4)]:
            one.result()


def test_a_newer_version_is_refused(database: str) -> None:
    engine = create_engine(database)
    with writing(engine, "new") as connection:
        migrate_server(connection, "new", (*STEPS, ("CREATE TABLE later (id INTEGER)",)))
    engine.dispose()
    with pytest.raises(InputError, match="was written by a newer Reviewkit"):
        open_data(database)


def test_another_programs_database_is_refused_and_stays(database: str) -> None:
    engine = create_engine(database)
    with engine.begin() as connection:
        connection.exec_driver_sql("CREATE TABLE reviews (mine TEXT)")
    with pytest.raises(InputError, match="holds tables of another program"):
        open_data(database)
    made = MetaData()
    made.reflect(engine)
    engine.dispose()
    assert set(made.tables) == {"reviews"}


# --- what goes wrong -----------------------------------------------------------------------


@pytest.mark.parametrize("address", ["http://host/x", "mysql://host/x", "nothing://", "://"])
def test_what_is_no_address_is_one_line(address: str) -> None:
    with pytest.raises(InputError, match="is neither a folder nor the address of a database"):
        open_data(address)


def test_a_server_that_is_not_there_is_one_line_without_the_password(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="see that its server runs") as caught:
        open_data(f"postgresql://me:secret@/none?host={tmp_path}")
    assert "secret" not in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_folder_is_a_folder(tmp_path: Path) -> None:
    with open_data(str(tmp_path / "data")) as store:
        assert store.path.parent == tmp_path / "data"
