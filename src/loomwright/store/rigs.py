"""Rigs, with every version of each: nothing is overwritten, nothing typed is lost."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from loomwright.invalid import InvalidInput
from loomwright.store import rig_rows as rows
from loomwright.store.card import Card, card_of, is_usable, renamed
from loomwright.store.changes import change_in_words
from loomwright.store.entry import checked_name, checked_text, folded
from loomwright.store.rig_reading import RigReading
from loomwright.store.rig_rows import Writing
from loomwright.store.rig_values import EditConflict, RigEntry, Version
from loomwright.store.undoing import redo_target, undo_target


@dataclass(frozen=True, slots=True)
class _Way:
    """Undoing or redoing: where it leads, and how it is told."""

    target: Callable[[Sequence[int]], int | None]
    field: str
    said: str
    none: str


UNDO = _Way(undo_target, "undo", "undid", "there is nothing before the first version")
REDO = _Way(redo_target, "redo", "did again", "nothing was undone since the last change")


@dataclass(frozen=True, slots=True)
class Rigs(RigReading):
    """The rigs of a store, to look at and to change."""

    def create(self, text: str, who: str, *, name: str = "", change: str = "begun") -> RigEntry:
        """Keep a new rig.

        Parameters
        ----------
        text : str
            Its job file, kept exactly as it is; one that cannot be used is kept as a draft.
        who : str
            Who keeps it.
        name : str
            Its name, if the file gives none.
        change : str
            What happened, in words.

        Raises
        ------
        InvalidInput
            If `who` is no name, or a text holds characters that are none.
        """
        who, text = checked_name(who, "who"), checked_text(text)
        called = checked_name(name, "name") if name else ""
        before = Card(name=called, words=folded(called)) if called else Card()
        card, change = card_of(text, before, is_usable(text)), checked_text(change, "change")
        with self.access.writing() as connection:
            return rows.add_rig(connection, self.access, Writing(text, card, change, who))

    def import_text(self, text: str, who: str, file: str = "") -> RigEntry:
        """Keep a job file as a new rig, exactly as it is.

        Parameters
        ----------
        text : str
            What stands in the file.
        who : str
            Who brings it.
        file : str
            Its name; becomes the rig's where the file gives none.

        Raises
        ------
        InvalidInput
            If `who` or `file` is no name, or a text holds characters that are none.
        """
        name = checked_name(file, "file") if file else ""
        change = f"imported from {name}" if name else "imported"
        return self.create(text, who, name=name.removesuffix(".toml"), change=change)

    def save(self, rig_id: str, text: str, based_on: int, who: str, *, change: str = "") -> Version:
        """Keep a changed job file as the newest version.

        Parameters
        ----------
        rig_id : str
            Which rig.
        text : str
            The changed file; one that cannot be used is kept as a draft.
        based_on : int
            The version that was changed.
        who : str
            Who changed it.
        change : str
            What changed, in words; found by comparing if left out.

        Returns
        -------
        Version
            The new one; the newest as it is, if the text is the same.

        Raises
        ------
        EditConflict
            If somebody else saved meanwhile; holds both texts, and what they have in common.
        InvalidInput
            If there is no such rig or version, or an entry cannot be used.
        """
        who, text = checked_name(who, "who"), checked_text(text)
        usable = is_usable(text)
        with self.access.writing() as connection:
            rig = rows.rig_row(connection, rig_id)
            newest = rows.version_of(rows.version_row(connection, rig_id, rig.version))
            base = rows.version_of(rows.version_row(connection, rig_id, based_on))
            if newest.text == text:
                return newest
            if base.number != newest.number:
                raise EditConflict(text, newest, base)
            card = card_of(text, rows.card_in(rig), usable)
            said = checked_text(change, "change") or change_in_words(newest.text, text)
            return rows.add_version(connection, self.access, rig, Writing(text, card, said, who))

    def resolve(self, rig_id: str, text: str, settles: int, who: str) -> Version:
        """Keep the text somebody settled on after an `EditConflict`.

        Parameters
        ----------
        rig_id : str
            Which rig.
        text : str
            What shall stand.
        settles : int
            Number of the other's version, which was looked at.
        who : str
            Who settled it.

        Raises
        ------
        EditConflict
            If somebody saved yet again.
        InvalidInput
            As in `save`.
        """
        theirs = self.version(rig_id, settles)
        said = f"settled with version {settles} of {theirs.who}"
        words = change_in_words(theirs.text, text)
        return self.save(rig_id, text, settles, who, change=f"{said}: {words}")

    def undo(self, rig_id: str, who: str, *, based_on: int | None = None) -> Version:
        """Bring back the text before the newest change, as a new version.

        Undoing again goes further back.

        Parameters
        ----------
        rig_id : str
            Which rig.
        who : str
            Who undoes it.
        based_on : int, optional
            The version that was seen; left out, whatever is newest is undone.

        Raises
        ------
        InvalidInput
            If nothing stands before, or there is no such rig.
        EditConflict
            If `based_on` is not the newest.
        """
        return self._go(rig_id, who, based_on, UNDO)

    def redo(self, rig_id: str, who: str, *, based_on: int | None = None) -> Version:
        """Bring back what was undone last, as a new version.

        Parameters
        ----------
        rig_id : str
            Which rig.
        who : str
            Who wants it back.
        based_on : int, optional
            The version that was seen.

        Raises
        ------
        InvalidInput
            If nothing was undone since the last change, or there is no such rig.
        EditConflict
            If `based_on` is not the newest.
        """
        return self._go(rig_id, who, based_on, REDO)

    def copy(self, rig_id: str, who: str, name: str = "") -> RigEntry:
        """Keep a copy of a rig's newest version as a new rig.

        Parameters
        ----------
        rig_id : str
            Which rig.
        who : str
            Who copies it.
        name : str
            Name of the copy, written into its file; "... (copy)" if left out.

        Raises
        ------
        InvalidInput
            If there is no such rig, or a name cannot be used.
        """
        entry, newest = self.entry(rig_id), self.newest(rig_id)
        called = checked_name(name or f"{entry.name} (copy)", "name")
        change = f"copied from {entry.name}, version {newest.number}"
        return self.create(renamed(newest.text, called), who, name=called, change=change)

    def archive(self, rig_id: str, who: str) -> RigEntry:
        """Put a rig away: it is kept, and out of the way.

        Raises
        ------
        InvalidInput
            If there is no such rig.
        """
        return self._shelve(rig_id, who, True)

    def unarchive(self, rig_id: str, who: str) -> RigEntry:
        """Fetch a rig back that was put away.

        Raises
        ------
        InvalidInput
            If there is no such rig.
        """
        return self._shelve(rig_id, who, False)

    def _go(self, rig_id: str, who: str, based_on: int | None, way: _Way) -> Version:
        who = checked_name(who, "who")
        with self.access.writing() as connection:
            rig = rows.rig_row(connection, rig_id)
            newest = rows.version_of(rows.version_row(connection, rig_id, rig.version))
            if based_on is not None and based_on != newest.number:
                base = rows.version_of(rows.version_row(connection, rig_id, based_on))
                raise EditConflict(base.text, newest, base)
            stands = rows.stands(connection, rig_id)
            target = way.target(stands)
            if target is None:
                raise InvalidInput(way.field, rig.name, way.none)
            there = rows.version_of(rows.version_row(connection, rig_id, target))
            moved = rows.version_row(connection, rig_id, max(target, stands[-1]))
            card = card_of(there.text, rows.card_in(rig), there.usable)
            said = f"{way.said}: {moved.change}"
            writing = Writing(there.text, card, said, who, target)
            return rows.add_version(connection, self.access, rig, writing)

    def _shelve(self, rig_id: str, who: str, away: bool) -> RigEntry:
        who = checked_name(who, "who")
        with self.access.writing() as connection:
            return rows.shelve(connection, self.access, rig_id, away, who)
