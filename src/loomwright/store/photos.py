"""Photos of records: beside the rows that name them, by the sum of their bytes.

They are kept in the database, not in a folder: one transaction holds a record and its photos, one
backup carries both, and several machines of a shop on one PostgreSQL see the same.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import datetime

from sqlalchemy import ColumnElement, Connection, delete, exists, func, insert, select

from loomwright.invalid import InvalidInput
from loomwright.store.entry import findable
from loomwright.store.photos_stripping import Picture
from loomwright.store.records_values import KeptPhoto, photo_of
from loomwright.store.tables import PHOTOS, RECORD_PHOTOS

MOST_TOGETHER = 60_000_000
"""Most that the photos of one record may take: they travel in its PDF. [bytes]"""

DRAWN = ("kind", "width", "height", "turned")


def sum_of(data: bytes) -> str:
    """Return the sum of some bytes: SHA-256, 64 hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def keep_photo(connection: Connection, picture: Picture, at: datetime, who: str) -> str:
    """Keep a photo, once, and return its sum."""
    sha256 = sum_of(picture.data)
    known = select(PHOTOS.c.sha256).where(PHOTOS.c.sha256 == sha256)
    if connection.execute(known).first() is None:
        row = {
            "sha256": sha256,
            "kind": picture.kind,
            "width": picture.width,
            "height": picture.height,
            "turned": picture.turned,
            "data": picture.data,
            "kept_at": at,
            "kept_by": who,
        }
        connection.execute(insert(PHOTOS).values(row))
    return sha256


def photo_in(connection: Connection, sha256: str) -> KeptPhoto:
    """Return a photo.

    Raises
    ------
    InvalidInput
        If there is none of this sum.
    """
    row = connection.execute(select(PHOTOS).where(PHOTOS.c.sha256 == findable(sha256))).first()
    if row is None:
        raise InvalidInput("photo", sha256, "choose a photo of the record")
    return photo_of(row)


def link_photos(connection: Connection, draft: tuple[str, int], sums: Iterable[str]) -> None:
    """Let a draft hold these photos and no others; what nothing holds any more is let go.

    Raises
    ------
    InvalidInput
        If there is no such photo, or they are too large together.
    """
    wanted, mine = set(sums), _of(draft)
    held = set(connection.execute(select(RECORD_PHOTOS.c.sha256).where(mine)).scalars())
    known = set(
        connection.execute(select(PHOTOS.c.sha256).where(PHOTOS.c.sha256.in_(wanted))).scalars()
    )
    if lost := wanted - known:
        raise InvalidInput("photos", ", ".join(sorted(lost)), "add the photo again: it is not kept")
    record_id, version = draft
    fresh = [
        {"record_id": record_id, "version": version, "sha256": each}
        for each in sorted(wanted - held)
    ]
    if fresh:
        connection.execute(insert(RECORD_PHOTOS), fresh)
    gone = held - wanted
    if gone:
        connection.execute(delete(RECORD_PHOTOS).where(mine, RECORD_PHOTOS.c.sha256.in_(gone)))
        let_go(connection, gone)
    _refuse_too_much(connection, wanted)


def let_go(connection: Connection, sums: Iterable[str]) -> None:
    """Delete the photos that no version of a record holds."""
    held = exists().where(RECORD_PHOTOS.c.sha256 == PHOTOS.c.sha256)
    connection.execute(delete(PHOTOS).where(PHOTOS.c.sha256.in_(set(sums)), ~held))


def sizes_of(connection: Connection, sums: Iterable[str]) -> dict[str, dict[str, object]]:
    """Return what is needed to draw photos, by their sums."""
    columns = select(PHOTOS.c.sha256, *(PHOTOS.c[name] for name in DRAWN))
    found = connection.execute(columns.where(PHOTOS.c.sha256.in_(set(sums))))
    return {row.sha256: {name: row._mapping[name] for name in DRAWN} for row in found}


def _of(draft: tuple[str, int]) -> ColumnElement[bool]:
    record_id, version = draft
    return (RECORD_PHOTOS.c.record_id == record_id) & (RECORD_PHOTOS.c.version == version)


def _refuse_too_much(connection: Connection, sums: set[str]) -> None:
    sizes = select(func.coalesce(func.sum(func.length(PHOTOS.c.data)), 0))
    together = connection.execute(sizes.where(PHOTOS.c.sha256.in_(sums))).scalar_one()
    if together > MOST_TOGETHER:
        said = f"{together / 1e6:.1f} MB together"
        fix = f"keep the photos of a record within {MOST_TOGETHER / 1e6:.0f} MB"
        raise InvalidInput("photos", said, fix)
