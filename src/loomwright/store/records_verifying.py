"""Proving a printed record: is it ours, is it whole, is it the newest."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from sqlalchemy import select

from loomwright.invalid import InvalidInput
from loomwright.sheets.handover_mark import Mark, marks_in
from loomwright.store.access import Access
from loomwright.store.photos import photo_in, sum_of
from loomwright.store.records_document import canonical, checksum
from loomwright.store.records_printing import Printer
from loomwright.store.records_reading import RecordReading
from loomwright.store.records_values import Record
from loomwright.store.tables import EVENTS, RECORD_PRINTS

PDF_HEAD = b"%PDF-"
MOST_PDF_BYTES = 80_000_000


class Verdict(StrEnum):
    """How a printed record stands."""

    GENUINE = "genuine"
    SUPERSEDED = "superseded"  # genuine, and replaced by a newer version
    ALTERED = "altered"  # the file, or what the store holds of it, was changed
    UNKNOWN = "unknown"


TITLES = {
    Verdict.GENUINE: "Genuine and unaltered",
    Verdict.SUPERSEDED: "Genuine, and replaced by a newer version",
    Verdict.ALTERED: "Altered",
    Verdict.UNKNOWN: "Unknown here",
}
DO = {
    Verdict.GENUINE: "It can be relied on as it stands.",
    Verdict.SUPERSEDED: "Go by the newer version, and print it anew.",
    Verdict.ALTERED: "Do not rely on this file. Print the record anew, or restore the store "
    "from a backup if the store itself was changed.",
    Verdict.UNKNOWN: "Ask the shop that is named on it to verify the file.",
}


@dataclass(frozen=True, slots=True)
class Proof:
    """What was found out about a printed record, in words; and the record, if there is one."""

    verdict: Verdict
    says: tuple[str, ...]
    mark: Mark | None = None
    record: Record | None = None
    newest: Record | None = None


def prove(access: Access, pdf: bytes, field: str = "file") -> Proof:
    """Return how a printed record stands to the store.

    Parameters
    ----------
    access : Access
        The store.
    pdf : bytes
        The file.
    field : str
        Its name, for messages.

    Raises
    ------
    InvalidInput
        If it is no PDF, or too large to be a record.

    Notes
    -----
    The file is genuine if its bytes are those that this record is printed as, now or by an
    earlier version of the program. The store's own record is proved first: its document and
    photos against their sums, and so is each version before it.
    """
    if not pdf.startswith(PDF_HEAD):
        raise InvalidInput(field, "not a PDF", "choose the PDF of a record")
    if len(pdf) > MOST_PDF_BYTES:
        fix = f"choose the PDF of a record: none is larger than {MOST_PDF_BYTES // 10**6} MB"
        raise InvalidInput(field, f"{len(pdf) / 1e6:.0f} MB", fix)
    marks = marks_in(pdf)
    if not marks:
        said = "The file bears no mark of a signed record: it is a draft, or no record at all."
        return Proof(Verdict.UNKNOWN, (said,))
    if len({(mark.record, mark.version, mark.checksum) for mark in marks}) > 1:
        said = "The file bears the marks of more than one record: somebody put it together."
        return Proof(Verdict.ALTERED, (said,))
    return _against_store(access, pdf, marks[0])


def _against_store(access: Access, pdf: bytes, mark: Mark) -> Proof:
    try:
        record = RecordReading(access).record(mark.record, mark.version)
    except InvalidInput:
        return _not_there(access, mark)
    history = RecordReading(access).history(mark.record)
    signed = [each for each in history if each.is_signed]
    newest = signed[-1] if signed else None
    if not record.is_signed:
        said = "The store holds this version as a draft that nobody signed."
        return Proof(Verdict.UNKNOWN, (said,), mark)
    if stored := tuple(troubles(access, record)):
        return Proof(Verdict.ALTERED, stored, mark, record, newest)
    if changed := _change_of_file(access, pdf, record, mark):
        return Proof(Verdict.ALTERED, (changed,), mark, record, newest)
    if newest is not None and newest.version > record.version:
        said = f"Version {newest.version} replaces it: {newest.why}"
        return Proof(Verdict.SUPERSEDED, (said,), mark, record, newest)
    said = "Every byte of the file is as it was printed from the signed record."
    return Proof(Verdict.GENUINE, (said,), mark, record, newest)


def _change_of_file(access: Access, pdf: bytes, record: Record, mark: Mark) -> str:
    """Return what shows that the file was changed; "" if nothing does."""
    if record.checksum != mark.checksum:
        return "The checksum in the file is not that of the record: the file was changed."
    if not _is_print(access, pdf, record, mark):
        return (
            "The record in the store is sound, but this file is not what it prints as: "
            "the file was changed after it was printed."
        )
    return ""


def _not_there(access: Access, mark: Mark) -> Proof:
    """Tell a record of another shop from one that was taken out of this store."""
    wanted = select(EVENTS.c.payload).where(EVENTS.c.topic == f"record/{mark.record}")
    with access.reading() as connection:
        told = [json.loads(each) for each in connection.execute(wanted).scalars()]
    if any(each.get("checksum") == mark.checksum for each in told):
        said = "It was signed here, but its row is gone: somebody took it out of the store."
        return Proof(Verdict.ALTERED, (said,), mark)
    said = "This store holds no such record: it was made in another shop, or is not genuine."
    return Proof(Verdict.UNKNOWN, (said,), mark)


def _is_print(access: Access, pdf: bytes, record: Record, mark: Mark) -> bool:
    known = _is_known_print(access, pdf)
    if known is not None:
        return known == (record.id, record.version)
    return Printer(access, mark.paper).typeset(record) == pdf


def _is_known_print(access: Access, pdf: bytes) -> tuple[str, int] | None:
    """Return which record a file was printed from, if it was printed here."""
    wanted = select(RECORD_PRINTS).where(RECORD_PRINTS.c.sha256 == sum_of(pdf))
    with access.reading() as connection:
        row = connection.execute(wanted).first()
    return None if row is None else (row.record_id, row.version)


def troubles(access: Access, record: Record) -> Iterator[str]:
    """Yield what is wrong with a signed record in the store, and with the versions before it.

    Parameters
    ----------
    access : Access
        The store.
    record : Record
        A signed version.
    """
    yield from _own_troubles(access, record)
    earlier_sum = record.document.get("earlier_checksum") if _is_whole(record) else None
    if record.version > 1 and _is_whole(record):
        history = RecordReading(access).history(record.id)
        before = next((each for each in history if each.version == record.version - 1), None)
        if before is None:
            yield f"Version {record.version - 1}, which it corrects, is gone from the store."
        elif before.checksum != earlier_sum:
            yield f"Version {before.version} is not the one it corrects: it was exchanged."
        else:
            yield from troubles(access, before)


def _own_troubles(access: Access, record: Record) -> Iterator[str]:
    if not _is_whole(record):
        yield f"The document of version {record.version} in the store was changed."
        return
    document = record.document
    if (document["record"], document["version"]) != (record.id, record.version):
        yield f"The document under version {record.version} in the store is another's."
    for number, each in enumerate(document["photos"], start=1):
        try:
            with access.reading() as connection:
                photo = photo_in(connection, each["sha256"])
        except InvalidInput:
            yield f"Photo {number} of version {record.version} is gone from the store."
            continue
        if sum_of(photo.data) != each["sha256"]:
            yield f"Photo {number} of version {record.version} in the store was changed."


def _is_whole(record: Record) -> bool:
    """Return whether the document is the one that was signed."""
    if checksum(record.text) != record.checksum:
        return False
    return canonical(json.loads(record.text)) == record.text


def audit(access: Access) -> Iterator[tuple[str, str]]:
    """Yield every trouble of every signed record, with the id of the record.

    Parameters
    ----------
    access : Access
        The store.
    """
    there: dict[str, set[str | None]] = {}
    for record in RecordReading(access).records():
        there.setdefault(record.id, set()).add(record.checksum)
        if record.is_signed:
            for said in _own_troubles(access, record):
                yield record.id, said
    for record_id, version, sum_ in _signed_events(access):
        if sum_ not in there.get(record_id, set()):
            yield record_id, f"Version {version} was signed, and is gone or was exchanged."


def _signed_events(access: Access) -> Iterator[tuple[str, int, str]]:
    wanted = select(EVENTS.c.topic, EVENTS.c.payload).where(EVENTS.c.topic.startswith("record/"))
    with access.reading() as connection:
        rows = connection.execute(wanted.order_by(EVENTS.c.seq)).all()
    for row in rows:
        told = json.loads(row.payload)
        if told.get("what") == "signed":
            yield row.topic.removeprefix("record/"), told["version"], told["checksum"]
