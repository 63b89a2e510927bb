"""A store on each database, with a clock that the tests wind."""

import itertools
import shutil
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from loomwright.store.access import Access
from loomwright.store.opening import open_store
from loomwright.store.store import Store
from loomwright.store.tables import METADATA

DATABASES = ["sqlite"] if sys.platform == "win32" else ["sqlite", "postgresql"]


class Clock:
    """Stands still until it is wound."""

    def __init__(self) -> None:
        self.time = datetime(2026, 11, 24, 9, 30, tzinfo=UTC)

    def __call__(self) -> datetime:
        """Return the time it shows."""
        return self.time

    def wind(self, **by: float) -> None:
        """Turn it forward, or back, as `timedelta` counts."""
        self.time += timedelta(**by)


@pytest.fixture(scope="session")
def server() -> Iterator[Any]:
    from tests.store.postgres import running_server  # not on Windows

    with running_server() as running:
        yield running


@pytest.fixture(params=DATABASES)
def kind(request: pytest.FixtureRequest) -> str:
    """The kind of database; every test that asks for a place or a store runs on each."""
    return str(request.param)


@pytest.fixture
def new_place(
    kind: str, request: pytest.FixtureRequest, tmp_path: Path
) -> Iterator[Callable[[], str]]:
    """Gives places of new stores, all on one kind of database."""
    if kind == "sqlite":
        numbers = itertools.count(1)
        yield lambda: str(tmp_path / f"shop{next(numbers)}.db")
    else:
        with request.getfixturevalue("server").lending() as lend:
            yield lend


@pytest.fixture
def place(new_place: Callable[[], str]) -> str:
    """The place of a new store."""
    return new_place()


@pytest.fixture
def clock() -> Clock:
    """A clock that stands still."""
    return Clock()


@pytest.fixture(scope="session")
def served(server: Any) -> Iterator[Store]:
    """A store that stays open: a new database for every test would take too long."""
    with server.lending() as lend, open_store(lend()) as opened:
        yield opened


@pytest.fixture(scope="session")
def new_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of an empty store, to copy: making its tables for every test takes too long."""
    path = tmp_path_factory.mktemp("store") / "new.db"
    open_store(path).close()
    return path


@pytest.fixture
def store(
    kind: str, request: pytest.FixtureRequest, tmp_path: Path, clock: Clock
) -> Iterator[Store]:
    """An empty store that is open."""
    if kind == "sqlite":
        file = shutil.copyfile(request.getfixturevalue("new_file"), tmp_path / "shop0.db")
        with open_store(file, now=clock) as opened:
            yield opened
    else:
        engine = request.getfixturevalue("served").access.engine
        with engine.begin() as connection:
            connection.exec_driver_sql("set local session_replication_role = replica")  # no guards
            connection.exec_driver_sql(f"truncate {', '.join(METADATA.tables)}")
        yield Store(Access(engine, clock))
