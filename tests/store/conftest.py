"""A store on each database, with a clock that the tests wind."""

import itertools
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from loomwright.store.opening import open_store
from loomwright.store.store import Store

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
def new_place(request: pytest.FixtureRequest, tmp_path: Path) -> Callable[[], str]:
    """Gives places of new stores, all on one kind of database."""
    if request.param == "postgresql":
        place: Callable[[], str] = request.getfixturevalue("server").new_database
        return place
    numbers = itertools.count(1)
    return lambda: str(tmp_path / f"shop{next(numbers)}.db")


@pytest.fixture
def place(new_place: Callable[[], str]) -> str:
    return new_place()


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def store(place: str, clock: Clock) -> Iterator[Store]:
    with open_store(place, now=clock) as opened:
        yield opened
