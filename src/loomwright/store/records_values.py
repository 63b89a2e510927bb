"""What comes out of the store for a record."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Any

from sqlalchemy import Row

from loomwright.store.records_entries import Entries, entries_from_plain


class State(StrEnum):
    """Whether a version of a record can still be changed."""

    DRAFT = "draft"
    SIGNED = "signed"


@dataclass(frozen=True, slots=True)
class Record:
    """A version of a record.

    `text` is the document as it is kept; `checksum` its sum, once it is signed. A draft holds
    what was entered so far, and nothing of the rig yet.
    """

    id: str
    version: int
    rig_id: str
    state: State
    text: str
    checksum: str | None
    made_at: datetime
    made_by: str
    changed_at: datetime
    changed_by: str
    signed_at: datetime | None
    signed_by: str | None

    @property
    def is_signed(self) -> bool:
        """Whether it can be changed no more."""
        return self.state is State.SIGNED

    @property
    def document(self) -> Mapping[str, Any]:
        """What it says, as plain values."""
        said: Mapping[str, Any] = json.loads(self.text)
        return said

    @property
    def entries(self) -> Entries:
        """What a person entered for it."""
        return entries_from_plain(self.document["entries"])

    @property
    def why(self) -> str:
        """What it corrects in the version before; "" for a first version."""
        return str(self.document["why"])


@dataclass(frozen=True, slots=True)
class KeptPhoto:
    """A photo as it is kept; sides in pixels."""

    sha256: str
    kind: str
    width: int
    height: int
    turned: int
    data: bytes
    kept_at: datetime
    kept_by: str


def record_of(row: Row[Any]) -> Record:
    """Return the version of a record that a row holds."""
    said = {name: row._mapping[name] for name in Record.__slots__ if name != "text"}
    return Record(**{**said, "state": State(said["state"]), "text": row.document})


def photo_of(row: Row[Any]) -> KeptPhoto:
    """Return the photo a row holds."""
    return KeptPhoto(**{name: row._mapping[name] for name in KeptPhoto.__slots__})
