"""The tables that the program asks are the tables that the steps make."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import MetaData, Table

from reviewkit.store import open_store
from reviewkit.store.connecting import connect
from reviewkit.store.tables import METADATA


def described(table: Table) -> dict[str, object]:
    return {
        "columns": [one.name for one in table.columns],
        "key": table.primary_key.columns.keys(),
        "may be empty": {one.name for one in table.columns if one.nullable} - {"id"},
        "references": {(key.parent.name, key.target_fullname) for key in table.foreign_keys},
        "indexes": {(one.name, *one.columns.keys()) for one in table.indexes},
    }


def test_the_steps_make_the_tables_as_described(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        engine = connect(store.path)
        made = MetaData()
        made.reflect(engine)
        engine.dispose()
    described_by_us = {name: described(table) for name, table in METADATA.tables.items()}
    assert {name: described(table) for name, table in made.tables.items()} == described_by_us
