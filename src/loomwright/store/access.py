"""What every part of the store works with: the database, the clock, and chance."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from threading import Lock

from sqlalchemy import Connection, Engine, func, select

from loomwright.store.engine import PATIENCE_S, WRITES, is_sqlite, where
from loomwright.store.problem import StoreProblem, told

WRITER_LOCK = 0x4C4F4F4D
"""Number of the lock that PostgreSQL writers take: one writer at a time, as in SQLite."""


def utc_now() -> datetime:
    """Return the time, in UTC."""
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True)
class Access:
    """The database, the clock, and chance.

    Parameters
    ----------
    engine : Engine
        Where to read and write.
    now : callable
        Gives the time; must know its zone.
    random_bytes : callable
        Gives that many bytes nobody can guess.
    """

    engine: Engine
    now: Callable[[], datetime] = utc_now
    random_bytes: Callable[[int], bytes] = secrets.token_bytes
    reader: Engine = field(init=False)
    writer: Engine = field(init=False)
    turn: Lock = field(init=False, default_factory=Lock, repr=False, compare=False)

    def __post_init__(self) -> None:
        reader = self.engine
        if not is_sqlite(self.engine):
            reader = reader.execution_options(
                isolation_level="REPEATABLE READ", postgresql_readonly=True
            )
        object.__setattr__(self, "reader", reader)
        object.__setattr__(self, "writer", self.engine.execution_options(**{WRITES: True}))

    @property
    def where(self) -> str:
        """File or address of the store, without a password."""
        return where(self.engine)

    def at(self) -> datetime:
        """Return the time, in UTC."""
        now = self.now()
        if now.tzinfo is None:
            raise ValueError(f"the clock does not know its zone: {now!r}")
        return now.astimezone(UTC)

    def new_id(self) -> str:
        """Return an id nobody has: 32 hexadecimal digits."""
        return self.random_bytes(16).hex()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Read one state of the store, whatever others write meanwhile.

        Raises
        ------
        StoreProblem
            If the database cannot be read.
        """
        with told(self.where), self.reader.begin() as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Read and write alone; all of it holds at the end, or none if anything is raised.

        Raises
        ------
        StoreProblem
            If the database cannot be written.
        """
        with self._turn(), told(self.where), self.writer.begin() as connection:
            if not is_sqlite(self.engine):
                connection.execute(select(func.pg_advisory_xact_lock(WRITER_LOCK)))
            yield connection

    @contextmanager
    def _turn(self) -> Iterator[None]:
        """Wait in line with the other threads; the database lets them try again and again."""
        if not self.turn.acquire(timeout=PATIENCE_S):
            raise StoreProblem(self.where, "is busy", "wait a moment and try again")
        try:
            yield
        finally:
            self.turn.release()
