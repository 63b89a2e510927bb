"""Looking at rigs: lists, search, versions."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select

from loomwright.store import rig_rows as rows
from loomwright.store.access import Access
from loomwright.store.entry import findable, folded
from loomwright.store.rig_values import RigEntry, Version, WaysBack
from loomwright.store.tables import RIGS, VERSIONS
from loomwright.store.undoing import redo_target, undo_target


@dataclass(frozen=True, slots=True)
class RigReading:
    """The rigs of a store, to look at."""

    access: Access

    def search(
        self, text: str = "", *, archived: bool | None = False, kind: str | None = None
    ) -> tuple[RigEntry, ...]:
        """Return the rigs that have every word, the one changed last first.

        Parameters
        ----------
        text : str
            Words or parts of words: names of rig, vehicle, trailer, customer, kind, VIN.
        archived : bool, optional
            Only those put away, only the others (False), or None for both.
        kind : str, optional
            Only this kind of job.
        """
        wanted = select(RIGS).order_by(RIGS.c.updated_at.desc(), RIGS.c.id)
        for word in folded(findable(text)).split():
            wanted = wanted.where(RIGS.c.words.contains(word, autoescape=True))
        if archived is not None:
            wanted = wanted.where(RIGS.c.archived == archived)
        if kind is not None:
            wanted = wanted.where(RIGS.c.kind == findable(kind))
        with self.access.reading() as connection:
            return tuple(rows.entry_of(row) for row in connection.execute(wanted))

    def kinds(self) -> tuple[str, ...]:
        """Return the kinds of job there are, in order of the alphabet."""
        wanted = select(RIGS.c.kind).distinct().where(RIGS.c.kind != "")
        with self.access.reading() as connection:
            return tuple(sorted(connection.execute(wanted).scalars(), key=folded))

    def export_text(self, rig_id: str, number: int | None = None) -> str:
        """Return the job file of a rig, exactly as it was written; the newest if none is named.

        Raises
        ------
        InvalidInput
            If there is no such rig or version.
        """
        return (self.newest(rig_id) if number is None else self.version(rig_id, number)).text

    def entry(self, rig_id: str) -> RigEntry:
        """Return a rig as it stands in a list.

        Raises
        ------
        InvalidInput
            If there is no such rig.
        """
        with self.access.reading() as connection:
            return rows.entry_of(rows.rig_row(connection, rig_id))

    def newest(self, rig_id: str) -> Version:
        """Return the newest version of a rig.

        Raises
        ------
        InvalidInput
            If there is no such rig.
        """
        with self.access.reading() as connection:
            row = rows.rig_row(connection, rig_id)
            return rows.version_of(rows.version_row(connection, rig_id, row.version))

    def version(self, rig_id: str, number: int) -> Version:
        """Return one version of a rig.

        Raises
        ------
        InvalidInput
            If there is no such rig or version.
        """
        with self.access.reading() as connection:
            rows.rig_row(connection, rig_id)
            return rows.version_of(rows.version_row(connection, rig_id, number))

    def history(self, rig_id: str) -> tuple[Version, ...]:
        """Return every version of a rig, oldest first.

        Raises
        ------
        InvalidInput
            If there is no such rig.
        """
        wanted = select(VERSIONS).where(VERSIONS.c.rig_id == rig_id).order_by(VERSIONS.c.number)
        with self.access.reading() as connection:
            rows.rig_row(connection, rig_id)
            return tuple(rows.version_of(row) for row in connection.execute(wanted))

    def ways_back(self, rig_id: str) -> WaysBack:
        """Return whether something can be undone in a rig, and whether something can be redone.

        Raises
        ------
        InvalidInput
            If there is no such rig.
        """
        with self.access.reading() as connection:
            rows.rig_row(connection, rig_id)
            stands = rows.stands(connection, rig_id)
        return WaysBack(undo_target(stands) is not None, redo_target(stands) is not None)
