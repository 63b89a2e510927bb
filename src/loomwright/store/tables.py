"""The tables of a store, as they are now; `migrations` says how they came to be so."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import (
    Boolean,
    Column,
    DateTime,
    Dialect,
    ForeignKey,
    ForeignKeyConstraint,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)
from sqlalchemy.types import TypeDecorator

VERSION_TABLE = "store_version"
NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
METADATA = MetaData(naming_convention=NAMES)


class Time(TypeDecorator[datetime]):
    """A point in time: always UTC, always with its zone, on every database."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Store in UTC; a time without zone is a bug."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"a time without zone: {value!r}")
        utc = value.astimezone(UTC)
        return utc.replace(tzinfo=None) if dialect.name == "sqlite" else utc

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Give back in UTC, with its zone."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


RIGS = Table(
    "rigs",
    METADATA,
    Column("id", String(32), primary_key=True),
    Column("name", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("vehicle", Text, nullable=False),
    Column("trailer", Text, nullable=False),
    Column("words", Text, nullable=False),
    Column("usable", Boolean, nullable=False),
    Column("archived", Boolean, nullable=False),
    Column("version", Integer, nullable=False),
    Column("created_at", Time, nullable=False),
    Column("created_by", Text, nullable=False),
    Column("updated_at", Time, nullable=False, index=True),
    Column("updated_by", Text, nullable=False),
)
"""One row for each rig: what its newest version says of itself, for lists and search."""

VERSIONS = Table(
    "versions",
    METADATA,
    Column("rig_id", ForeignKey("rigs.id"), primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("text", Text, nullable=False),
    Column("usable", Boolean, nullable=False),
    Column("change", Text, nullable=False),
    Column("stands_at", Integer, nullable=False),
    Column("at", Time, nullable=False),
    Column("who", Text, nullable=False),
)
"""Every text a rig ever had; rows are added, never changed.

`stands_at` is the version whose text this one brought back by undoing or redoing, else its own
number.
"""

WIRE_MAPS = Table(
    "wire_maps",
    METADATA,
    Column("id", String(32), primary_key=True),
    Column("vehicle", Text, nullable=False),
    Column("fits", Text, nullable=False),
    Column("notes", Text, nullable=False),
    Column("words", Text, nullable=False),
    Column("rig_id", ForeignKey("rigs.id"), nullable=True),
    Column("kept_at", Time, nullable=False),
    Column("kept_by", Text, nullable=False),
    Column("retired_at", Time, nullable=True),
    Column("retired_by", Text, nullable=True),
)
"""What the shop knows of a vehicle's wires; `fits` is a pattern of vehicle names."""

MAPPED_WIRES = Table(
    "mapped_wires",
    METADATA,
    Column("map_id", ForeignKey("wire_maps.id"), primary_key=True),
    Column("place", Integer, primary_key=True, autoincrement=False),
    Column("function", Text, nullable=False),
    Column("colour", Text, nullable=False),
    Column("size", Text, nullable=False),
    Column("found", Text, nullable=False),
    Column("verified_how", Text, nullable=False),
    Column("verified_at", Time, nullable=False),
    Column("verified_by", Text, nullable=False),
)
"""One wire of a map. The colour in words: no manual's legend reads words in its own way."""

SETTINGS = Table(
    "settings",
    METADATA,
    Column("name", String(64), primary_key=True),
    Column("value", Text, nullable=False),
    Column("at", Time, nullable=False),
    Column("who", Text, nullable=False),
)

PAIRING_CODES = Table(
    "pairing_codes",
    METADATA,
    Column("id", String(32), primary_key=True),
    Column("salt", String(32), nullable=False),
    Column("code_hash", String(64), nullable=False),
    Column("tries_left", Integer, nullable=False),
    Column("made_at", Time, nullable=False),
    Column("made_by", Text, nullable=False),
    Column("expires_at", Time, nullable=False),
)
"""Codes that can still be used, of which there is one at most."""

DEVICES = Table(
    "devices",
    METADATA,
    Column("id", String(32), primary_key=True),
    Column("name", Text, nullable=False),
    Column("token_hash", String(64), nullable=True, unique=True),
    Column("paired_at", Time, nullable=False),
    Column("paired_by", Text, nullable=False),
    Column("seen_at", Time, nullable=False),
    Column("dropped_at", Time, nullable=True),
    Column("dropped_by", Text, nullable=True),
)
"""Phones and tablets that were let in; a dropped one keeps its row and loses its token."""

SESSIONS = Table(
    "sessions",
    METADATA,
    Column("token_hash", String(64), primary_key=True),
    Column("device_id", ForeignKey("devices.id"), nullable=False, index=True),
    Column("begun_at", Time, nullable=False),
    Column("seen_at", Time, nullable=False),
    Column("expires_at", Time, nullable=False),
)

EVENTS = Table(
    "events",
    METADATA,
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("topic", String(200), nullable=False, index=True),
    Column("payload", Text, nullable=False),
    Column("key", String(64), nullable=True, unique=True),
    Column("who", Text, nullable=False),
    Column("at", Time, nullable=False),
)
"""What happened, in the order it was written; rows are added, never changed."""

LIGHT_CHECKS = Table(
    "light_checks",
    METADATA,
    Column("id", String(32), primary_key=True),
    Column("number", Integer, nullable=False, unique=True),
    Column("rig_id", ForeignKey("rigs.id"), nullable=False, index=True),
    Column("version", Integer, nullable=False),
    Column("title", Text, nullable=False),
    Column("stage", Text, nullable=False),
    Column("vehicle", Text, nullable=False),
    Column("tester", Text, nullable=False),
    Column("people", Integer, nullable=False),
    Column("plan", Text, nullable=False),
    Column("step", Integer, nullable=False),
    Column("begun_at", Time, nullable=False),
    Column("begun_by", Text, nullable=False),
    Column("ended_at", Time, nullable=True),
    Column("ended_by", Text, nullable=True),
)
"""A light check with its plan; `number` counts the checks of the shop, `step` from 0."""

LIGHT_ANSWERS = Table(
    "light_answers",
    METADATA,
    Column("check_id", ForeignKey("light_checks.id"), primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("expectation", Text, nullable=False),
    Column("observation", Text, nullable=True),
    Column("standing", Text, nullable=False),
    Column("says", Text, nullable=False),
    Column("key", String(64), nullable=False),
    Column("at", Time, nullable=False),
    Column("kept_at", Time, nullable=False),
    Column("who", Text, nullable=False),
)
"""One answer; rows are added, never changed. `at` is when it was given, `kept_at` when it came."""

USUAL_READINGS = Table(
    "usual_readings",
    METADATA,
    Column("id", String(32), primary_key=True),
    Column("vehicle", Text, nullable=False),
    Column("fits", Text, nullable=False),
    Column("map_id", ForeignKey("wire_maps.id"), nullable=True),
    Column("check_id", ForeignKey("light_checks.id"), nullable=False),
    Column("observation", Text, nullable=False),
    Column("kept_at", Time, nullable=False),
    Column("kept_by", Text, nullable=False),
    Column("retired_at", Time, nullable=True),
    Column("retired_by", Text, nullable=True),
)
"""A reading that was found normal for a vehicle; `fits` is a pattern of vehicle names."""

RECORDS = Table(
    "records",
    METADATA,
    Column("id", String(32), primary_key=True),
    Column("version", Integer, primary_key=True, autoincrement=False),
    Column("rig_id", ForeignKey("rigs.id"), nullable=False, index=True),
    Column("state", String(8), nullable=False),
    Column("document", Text, nullable=False),
    Column("checksum", String(64), nullable=True, unique=True),
    Column("made_at", Time, nullable=False),
    Column("made_by", Text, nullable=False),
    Column("changed_at", Time, nullable=False),
    Column("changed_by", Text, nullable=False),
    Column("signed_at", Time, nullable=True),
    Column("signed_by", Text, nullable=True),
)
"""A version of a record: a draft, or signed; the database refuses to change a signed one."""

PHOTOS = Table(
    "photos",
    METADATA,
    Column("sha256", String(64), primary_key=True),
    Column("kind", String(8), nullable=False),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("turned", Integer, nullable=False),
    Column("data", LargeBinary, nullable=False),
    Column("kept_at", Time, nullable=False),
    Column("kept_by", Text, nullable=False),
)
"""A photo by the sum of its bytes; rows are added, never changed."""

RECORD_PHOTOS = Table(
    "record_photos",
    METADATA,
    Column("record_id", String(32), primary_key=True),
    Column("version", Integer, primary_key=True, autoincrement=False),
    Column("sha256", ForeignKey("photos.sha256"), primary_key=True),
    ForeignKeyConstraint(["record_id", "version"], ["records.id", "records.version"]),
)
"""Which photos a version of a record holds."""

RECORD_PRINTS = Table(
    "record_prints",
    METADATA,
    Column("sha256", String(64), primary_key=True),
    Column("record_id", String(32), nullable=False),
    Column("version", Integer, nullable=False),
    Column("paper", String(8), nullable=False),
    Column("at", Time, nullable=False),
    ForeignKeyConstraint(["record_id", "version"], ["records.id", "records.version"]),
)
"""The sum of each PDF that was made of a signed record; rows are added, never changed."""

DOOR = (PAIRING_CODES, DEVICES, SESSIONS)
"""Who may enter: stays with the machine, in no backup."""

KEPT = tuple(table for table in METADATA.sorted_tables if table not in DOOR)
"""What a backup holds, each table after those it points to."""
