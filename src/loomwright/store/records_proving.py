"""Printing and proving, beside looking."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from loomwright.sheets.typeset import Paper
from loomwright.store import records_verifying as verifying
from loomwright.store.records_printing import Printer
from loomwright.store.records_reading import RecordReading
from loomwright.store.records_values import Record


@dataclass(frozen=True, slots=True)
class RecordProving(RecordReading):
    """The records of a store, to look at, to print and to prove."""

    def pdf(self, record: Record, paper: Paper = "letter") -> bytes:
        """Return a signed record as a PDF, always the same bytes; its sum is noted.

        Parameters
        ----------
        record : Record
            A signed version.
        paper : "letter" or "a4"
            Size of the paper.

        Raises
        ------
        InvalidInput
            If the paper is not known, or a photo is lost.
        """
        return Printer(self.access, paper).printed(record)

    def draft_pdf(self, document: Mapping[str, Any], paper: Paper = "letter") -> bytes:
        """Return the document of a draft as a PDF that says it is one."""
        return Printer(self.access, paper).draft(document)

    def pages(self, document: Mapping[str, Any], checksum: str, paper: Paper) -> tuple[bytes, ...]:
        """Return the pages of a record, or of a draft if it has no sum, each a PNG."""
        return Printer(self.access, paper).pages(document, checksum)

    def prove(self, pdf: bytes, field: str = "file") -> verifying.Proof:
        """Return how a printed record stands to the store.

        Parameters
        ----------
        pdf : bytes
            The file.
        field : str
            Its name, for messages.

        Raises
        ------
        InvalidInput
            If it is no PDF, or too large to be a record.
        """
        return verifying.prove(self.access, pdf, field)

    def audit(self) -> Iterator[tuple[str, str]]:
        """Yield every trouble of every signed record, with the id of the record."""
        return verifying.audit(self.access)
