"""What comes out of the store for a rig."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from loomwright.store.merge import merged


@dataclass(frozen=True, slots=True)
class RigEntry:
    """A rig as it stands in a list; `version` is the number of its newest version."""

    id: str
    name: str
    kind: str
    vehicle: str
    trailer: str
    usable: bool
    archived: bool
    version: int
    created_at: datetime
    created_by: str
    updated_at: datetime
    updated_by: str


@dataclass(frozen=True, slots=True)
class Version:
    """One text a rig had: numbers count from 1; `usable` is False for a draft."""

    rig_id: str
    number: int
    text: str
    usable: bool
    change: str
    at: datetime
    who: str


@dataclass(frozen=True, slots=True)
class WaysBack:
    """Whether a change can be undone in a rig, and whether one can be done again."""

    undo: bool
    redo: bool


class EditConflict(Exception):
    """Somebody else saved the rig meanwhile; nothing was stored, nothing is lost.

    Parameters
    ----------
    yours : str
        The text that could not be saved.
    theirs : Version
        The newest version.
    base : Version
        The version both started from.
    """

    def __init__(self, yours: str, theirs: Version, base: Version) -> None:
        super().__init__(f"{theirs.who} saved version {theirs.number} meanwhile: {theirs.change}")
        self.yours = yours
        self.theirs = theirs
        self.base = base

    @property
    def merged(self) -> str | None:
        """The text with both changes; None if they touch the same lines. Look before saving it."""
        return merged(self.base.text, self.yours, self.theirs.text)
