"""Printing a record, and noting what was printed, so that the very file can be known again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import insert, select

from loomwright.sheets.handover import handover_pages, handover_sheet
from loomwright.sheets.typeset import Paper
from loomwright.store.access import Access
from loomwright.store.photos import sum_of
from loomwright.store.records_reading import RecordReading
from loomwright.store.records_values import Record
from loomwright.store.tables import RECORD_PRINTS


@dataclass(frozen=True, slots=True)
class Printer:
    """Prints what a store keeps, on one size of paper.

    Every print raises `InvalidInput` if the paper is not known or a photo is lost.

    Parameters
    ----------
    access : Access
        The store.
    paper : "letter" or "a4"
        Size of the paper.
    """

    access: Access
    paper: Paper

    def printed(self, record: Record) -> bytes:
        """Return a signed record as a PDF, and note its sum."""
        pdf = self.typeset(record)
        self._note(record, sum_of(pdf))
        return pdf

    def typeset(self, record: Record) -> bytes:
        """Return a signed record as a PDF, without a note of it."""
        return handover_sheet(
            record.document,
            self._photos(record.document),
            text=record.text,
            checksum=record.checksum or "",
            paper=self.paper,
        )

    def draft(self, document: Mapping[str, Any]) -> bytes:
        """Return the document of a draft as a PDF that says it is one."""
        return handover_sheet(document, self._photos(document), paper=self.paper)

    def pages(self, document: Mapping[str, Any], checksum: str) -> tuple[bytes, ...]:
        """Return the pages of a record, or of a draft if it has no sum, each a PNG."""
        photos = self._photos(document)
        return handover_pages(document, photos, checksum=checksum, paper=self.paper)

    def _photos(self, document: Mapping[str, Any]) -> list[bytes]:
        records = RecordReading(self.access)
        return [records.photo(each["sha256"]).data for each in document["photos"]]

    def _note(self, record: Record, sha256: str) -> None:
        known = select(RECORD_PRINTS.c.sha256).where(RECORD_PRINTS.c.sha256 == sha256)
        with self.access.reading() as connection:
            if connection.execute(known).first() is not None:
                return
        with self.access.writing() as connection:
            if connection.execute(known).first() is None:
                row = {
                    "sha256": sha256,
                    "record_id": record.id,
                    "version": record.version,
                    "paper": self.paper,
                    "at": self.access.at(),
                }
                connection.execute(insert(RECORD_PRINTS).values(row))
