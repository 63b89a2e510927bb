"""The store: all that the workbench keeps, in one place."""

from __future__ import annotations

from dataclasses import dataclass
from types import TracebackType

from loomwright.store.access import Access
from loomwright.store.events import Events
from loomwright.store.rigs import Rigs


@dataclass(frozen=True, slots=True)
class Store:
    """An open store; close it when done, or use it in a `with`."""

    access: Access

    @property
    def rigs(self) -> Rigs:
        """The rigs, with every version of each."""
        return Rigs(self.access)

    @property
    def events(self) -> Events:
        """What happened, in order."""
        return Events(self.access)

    def close(self) -> None:
        """Let go of the database."""
        self.access.engine.dispose()

    def __enter__(self) -> Store:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
