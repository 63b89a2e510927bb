"""The store: all that the workbench keeps, in one place."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from loomwright.store.access import Access
from loomwright.store.backup import make_backup
from loomwright.store.checks import LightChecks
from loomwright.store.checks_usual import UsualReadings
from loomwright.store.devices import Devices
from loomwright.store.events import Events
from loomwright.store.records import Records
from loomwright.store.restoring import restore
from loomwright.store.rigs import Rigs
from loomwright.store.sessions import Sessions
from loomwright.store.settings import Settings
from loomwright.store.wire_maps import WireMaps


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

    @property
    def wire_maps(self) -> WireMaps:
        """What was proved about vehicles' wires."""
        return WireMaps(self.access)

    @property
    def checks(self) -> LightChecks:
        """Light checks, with every answer."""
        return LightChecks(self.access)

    @property
    def usual(self) -> UsualReadings:
        """What is normal for a vehicle."""
        return UsualReadings(self.access)

    @property
    def settings(self) -> Settings:
        """What holds for the whole shop."""
        return Settings(self.access)

    @property
    def devices(self) -> Devices:
        """Who may enter over the shop's network."""
        return Devices(self.access)

    @property
    def sessions(self) -> Sessions:
        """Stretches of work on the devices."""
        return Sessions(self.access)

    @property
    def records(self) -> Records:
        """Records of work, signed and to be signed."""
        return Records(self.access)

    def backup(self, path: str | Path, *, as_text: bool = False) -> Path:
        """Write all that is kept to a new file, while others go on working.

        Parameters
        ----------
        path : str or Path
            Where to; nothing may stand there.
        as_text : bool
            Lines of JSON, which any database can take in; always so for PostgreSQL.

        Raises
        ------
        StoreProblem
            If something stands there, or it cannot be written.
        """
        return make_backup(self.access, Path(path), as_text=as_text)

    def restore(self, path: str | Path, who: str, *, keep: str | Path | None = None) -> None:
        """Replace all that is kept by a backup; all of it, or nothing if it is not sound.

        Parameters
        ----------
        path : str or Path
            The backup, from SQLite or PostgreSQL.
        who : str
            Who wants it.
        keep : str or Path, optional
            Where to put a backup of what is there now.

        Raises
        ------
        StoreProblem
            If the backup is damaged, is something else, or was made by a newer version.
        InvalidInput
            If `who` is no name.
        """
        restore(self.access, Path(path), who, keep=None if keep is None else Path(keep))

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
