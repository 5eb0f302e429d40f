"""What all tests share: none of them is timed, however busy the machine is."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from itertools import count

import pytest
from hypothesis import settings
from sqlalchemy import create_engine

from reviewkit.cli.app import OBJECTS_BETWEEN_COLLECTIONS
from tests.postgres import programs, server

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

# As the program itself does.
gc.set_threshold(OBJECTS_BETWEEN_COLLECTIONS)

_NUMBERS = count(1)


@pytest.fixture(scope="session", autouse=True)
def _cache_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep whatever programs keep for later apart from what the user's own have kept."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield


@pytest.fixture(scope="session")
def postgres_server() -> Iterator[str]:
    """Run a PostgreSQL server for the tests that ask for one."""
    bin_folder = programs()
    if bin_folder is None:
        pytest.skip("no PostgreSQL server is installed; apt-get install postgresql")
    with server(bin_folder) as address:
        yield address


@pytest.fixture
def database(postgres_server: str) -> str:
    """Make an empty database and give its address."""
    name = f"test_{next(_NUMBERS)}"
    engine = create_engine(postgres_server.format("postgres"), isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.exec_driver_sql(f"CREATE DATABASE {name}")
    engine.dispose()
    return postgres_server.format(name)
