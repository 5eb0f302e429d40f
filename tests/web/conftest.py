from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from reviewkit.store import Store, open_store
from tests.web.visitor import Visitor, visit


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return open_store(tmp_path / "data")


@pytest.fixture
def page(store: Store) -> Iterator[Visitor]:
    with visit(store) as visitor:
        yield visitor
