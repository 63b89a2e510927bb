"""Records of work: a draft that people fill in, signed once, and corrected by a new version.

There is no way here to change what is signed, and the database refuses it to everybody else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Connection, Row, delete, insert, select, update

from loomwright.hookup import pair
from loomwright.invalid import InvalidInput
from loomwright.rig.read import read_rig
from loomwright.sheets.handover import draws
from loomwright.sheets.handover_facts import record_facts
from loomwright.store import rig_rows
from loomwright.store.checks import LightChecks
from loomwright.store.checks_values import Stage, latest
from loomwright.store.entry import checked_name, checked_text
from loomwright.store.events import Happening, add_event
from loomwright.store.photos import keep_photo, link_photos, sizes_of, sum_of
from loomwright.store.photos_stripping import stripped
from loomwright.store.records_document import Checks, Origin, canonical, checksum, compose
from loomwright.store.records_entries import (
    LONGEST_NOTE,
    Entries,
    entries_from_plain,
    entries_to_plain,
)
from loomwright.store.records_proving import RecordProving
from loomwright.store.records_reading import draft_row, newest_row
from loomwright.store.records_readings import CheckMade
from loomwright.store.records_signing import Signature, checked_signatures
from loomwright.store.records_values import Record, State, record_of
from loomwright.store.tables import RECORDS

TOPIC = "record"
LOOK_AGAIN = "look at the record again and sign what stands there now"


@dataclass(frozen=True, slots=True)
class Records(RecordProving):
    """The records of a store, to fill in, to sign, to correct, to print and to prove."""

    def begin(self, rig_id: str, who: str) -> Record:
        """Return the draft of a rig's record; a new one, filled from what is known, if none is.

        Parameters
        ----------
        rig_id : str
            Which rig.
        who : str
            Who begins it.

        Raises
        ------
        InvalidInput
            If there is no such rig, or `who` is no name.
        ExceptionGroup
            Of `InvalidInput`, if the rig is a draft that cannot be used.
        """
        who = checked_name(who, "who")
        entries = self._first_entries(rig_id)
        with self.access.writing() as connection:
            mine = (RECORDS.c.rig_id == rig_id) & (RECORDS.c.state == State.DRAFT)
            if (open_one := connection.execute(select(RECORDS).where(mine)).first()) is not None:
                return record_of(open_one)
            draft = _draft_text(entries, "", None)
            return self._add(connection, (self.access.new_id(), 1, rig_id), draft, who)

    def change(self, record_id: str, parts: Mapping[str, Any], who: str) -> Record:
        """Keep some entries of a draft; the others stay as they are.

        Parameters
        ----------
        record_id : str
            Which record.
        parts : mapping
            Entries by name, as plain values.
        who : str
            Who entered them.

        Raises
        ------
        InvalidInput
            If there is no such record or no draft of it, or `who` is no name.
        ExceptionGroup
            Of `InvalidInput`, for every entry that cannot be used.
        """
        who = checked_name(who, "who")
        with self.access.writing() as connection:
            draft = record_of(draft_row(connection, record_id))
            kept = entries_to_plain(draft.entries)
            return self._write(connection, draft, entries_from_plain({**kept, **parts}), who)

    def add_photo(self, record_id: str, data: bytes, who: str, caption: str = "") -> Record:
        """Keep a photo with a draft, without what it tells beside its picture.

        Parameters
        ----------
        record_id : str
            Which record.
        data : bytes
            JPEG, PNG or WebP.
        who : str
            Who adds it.
        caption : str
            What it shows.

        Raises
        ------
        InvalidInput
            If it is no photo, too large, or damaged; or there is no draft of such a record.
        """
        who, picture = checked_name(who, "who"), stripped(data)
        if not draws(picture.data, picture.kind):
            fix = "take or choose it again: this one is cut short or damaged"
            raise InvalidInput("photo", "a photo that cannot be drawn", fix)
        with self.access.writing() as connection:
            draft = record_of(draft_row(connection, record_id))
            sha256 = keep_photo(connection, picture, self.access.at(), who)
            plain = entries_to_plain(draft.entries)
            plain["photos"].append({"sha256": sha256, "caption": caption})
            return self._write(connection, draft, entries_from_plain(plain), who)

    def preview(self, record_id: str) -> Mapping[str, Any]:
        """Return the document of a draft as it would be signed now.

        Parameters
        ----------
        record_id : str
            Which record.

        Raises
        ------
        InvalidInput
            If there is no such record, or no draft of it.
        ExceptionGroup
            Of `InvalidInput`, if the rig cannot be used.
        """
        with self.access.reading() as connection:
            return self._composed(connection, record_of(draft_row(connection, record_id)))

    def sign(
        self, record_id: str, signatures: Sequence[Signature], who: str, *, seen: str = ""
    ) -> Record:
        """Sign a draft: from now on it stays as it is.

        Parameters
        ----------
        record_id : str
            Which record.
        signatures : sequence of Signature
            The technician's, and any others.
        who : str
            Who does it.
        seen : str
            Sum of the document that was looked at before; any if left out.

        Raises
        ------
        InvalidInput
            If there is no draft, nothing was entered as done, or it is not what was seen.
        ExceptionGroup
            Of `InvalidInput`, for every signature that cannot be used, or if the rig cannot be.
        """
        who, at = checked_name(who, "who"), self.access.at()
        signed = [each.to_plain(at) for each in checked_signatures(signatures)]
        with self.access.writing() as connection:
            draft = record_of(draft_row(connection, record_id))
            document = self._composed(connection, draft)
            if seen and seen != checksum(canonical(document)):
                raise InvalidInput("record", "changed since it was looked at", LOOK_AGAIN)
            if not document["done"] and not document["done_notes"]:
                raise InvalidInput("done", "", "tick what was done, or say it in words")
            text = canonical(
                {**document, "signatures": signed, "signed_at": at.isoformat(), "signed_by": who}
            )
            row = {
                "state": State.SIGNED,
                "document": text,
                "checksum": checksum(text),
                "signed_at": at,
                "signed_by": who,
            }
            changed = update(RECORDS).where(_is(draft)).values(row).returning(RECORDS)
            record = record_of(connection.execute(changed).one())
            said = {"what": "signed", "version": record.version, "checksum": record.checksum}
            self._tell(connection, record, said, who)
            return record

    def correct(self, record_id: str, why: str, who: str) -> Record:
        """Begin a new version of a signed record, filled as the last one was.

        Parameters
        ----------
        record_id : str
            Which record.
        why : str
            What is corrected.
        who : str
            Who corrects it.

        Raises
        ------
        InvalidInput
            If there is no such record, it is a draft, another draft of the rig is open, or no
            reason is given.
        """
        who, why = checked_name(who, "who"), checked_text(why.strip(), "why", LONGEST_NOTE)
        if not why:
            raise InvalidInput("why", why, "say what is corrected: it is printed on the record")
        with self.access.writing() as connection:
            last = record_of(newest_row(connection, record_id))
            mine = (RECORDS.c.rig_id == last.rig_id) & (RECORDS.c.state == State.DRAFT)
            if connection.execute(select(RECORDS.c.id).where(mine)).first() is not None:
                raise InvalidInput("record", record_id, "sign or drop the open draft first")
            text = _draft_text(last.entries, why, last.checksum)
            where = (last.id, last.version + 1, last.rig_id)
            record = self._add(connection, where, text, who)
            link_photos(connection, (record.id, record.version), _sums(last.entries))
            return record

    def drop(self, record_id: str, who: str) -> None:
        """Throw a draft away; what was signed before it stays.

        Parameters
        ----------
        record_id : str
            Which record.
        who : str
            Who does it.

        Raises
        ------
        InvalidInput
            If there is no draft of such a record.
        """
        who = checked_name(who, "who")
        with self.access.writing() as connection:
            draft = record_of(draft_row(connection, record_id))
            link_photos(connection, (draft.id, draft.version), ())
            connection.execute(delete(RECORDS).where(_is(draft)))
            self._tell(connection, draft, {"what": "dropped", "version": draft.version}, who)

    def _first_entries(self, rig_id: str) -> Entries:
        """Return what can be entered for a rig before anybody enters anything."""
        with self.access.reading() as connection:
            facts, _ = _facts(connection, rig_id)
        checks = LightChecks(self.access).checks_of(rig_id)
        newest = {stage: next((c.id for c in checks if c.stage is stage), "") for stage in Stage}
        return Entries(
            places={each["key"]: each["known"] for each in facts["places"] if each["known"]},
            before=newest[Stage.BEFORE],
            after=newest[Stage.AFTER] or newest[Stage.PLAIN],
        )

    def _composed(self, connection: Connection, draft: Record) -> dict[str, Any]:
        entries = draft.entries
        facts, (number, text) = _facts(connection, draft.rig_id)
        said = draft.document
        origin = Origin(
            draft.id,
            draft.version,
            draft.rig_id,
            number,
            sum_of(text.encode("utf-8")),
            why=said["why"],
            earlier_checksum=said["earlier_checksum"],
        )
        checks = Checks(self._check(entries.before), self._check(entries.after))
        photos = sizes_of(connection, _sums(entries))
        return compose(origin, facts, entries, checks, photos)

    def _check(self, check_id: str) -> CheckMade | None:
        if not check_id:
            return None
        checks = LightChecks(self.access)
        check = checks.check(check_id)
        return CheckMade(check, latest(checks.answers(check)))

    def _add(
        self, connection: Connection, where: tuple[str, int, str], text: str, who: str
    ) -> Record:
        at, (record_id, version, rig_id) = self.access.at(), where
        row = {
            "id": record_id,
            "version": version,
            "rig_id": rig_id,
            "state": State.DRAFT,
            "document": text,
            "made_at": at,
            "made_by": who,
            "changed_at": at,
            "changed_by": who,
        }
        record = record_of(connection.execute(insert(RECORDS).values(row).returning(RECORDS)).one())
        self._tell(connection, record, {"what": "begun", "version": version}, who)
        return record

    def _write(self, connection: Connection, draft: Record, entries: Entries, who: str) -> Record:
        said = draft.document
        row = {
            "document": _draft_text(entries, said["why"], said["earlier_checksum"]),
            "changed_at": self.access.at(),
            "changed_by": who,
        }
        changed = update(RECORDS).where(_is(draft)).values(row).returning(RECORDS)
        record = record_of(connection.execute(changed).one())
        link_photos(connection, (record.id, record.version), _sums(entries))
        return record

    def _tell(
        self, connection: Connection, record: Record, said: Mapping[str, Any], who: str
    ) -> None:
        told = {**said, "rig": record.rig_id}
        add_event(connection, self.access, Happening(f"{TOPIC}/{record.id}", told, who))


def _facts(connection: Connection, rig_id: str) -> tuple[dict[str, Any], tuple[int, str]]:
    """Return what a rig's newest version says for its record; its number and text."""
    rig = rig_rows.rig_row(connection, rig_id)
    row: Row[Any] = rig_rows.version_row(connection, rig_id, rig.version)
    read = read_rig(row.text)
    return record_facts(read, pair(read)), (row.number, row.text)


def _draft_text(entries: Entries, why: str, earlier: str | None) -> str:
    said = {"entries": entries_to_plain(entries), "why": why, "earlier_checksum": earlier}
    return canonical(said)


def _sums(entries: Entries) -> list[str]:
    return [each.sha256 for each in entries.photos]


def _is(record: Record) -> ColumnElement[bool]:
    return (RECORDS.c.id == record.id) & (RECORDS.c.version == record.version)
