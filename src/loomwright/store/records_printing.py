"""Printing a record, and noting what was printed, so that the very file can be known again."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import insert, select

from loomwright.sheets.handover import handover_pages, handover_sheet
from loomwright.sheets.typeset import Paper
from loomwright.store.access import Access
from loomwright.store.photos import sum_of
from loomwright.store.records_reading import RecordReading
from loomwright.store.records_values import Record
from loomwright.store.tables import RECORD_PRINTS


def printed(access: Access, record: Record, paper: Paper) -> bytes:
    """Return a signed record as a PDF, and note its sum.

    Parameters
    ----------
    access : Access
        The store.
    record : Record
        A signed version.
    paper : "letter" or "a4"
        Size of the paper.

    Raises
    ------
    InvalidInput
        If the paper is not known, or a photo is lost.
    """
    pdf = typeset(access, record, paper)
    sha256 = sum_of(pdf)
    known = select(RECORD_PRINTS.c.sha256).where(RECORD_PRINTS.c.sha256 == sha256)
    with access.reading() as connection:
        if connection.execute(known).first() is not None:
            return pdf
    with access.writing() as connection:
        if connection.execute(known).first() is None:
            row = {
                "sha256": sha256,
                "record_id": record.id,
                "version": record.version,
                "paper": paper,
                "at": access.at(),
            }
            connection.execute(insert(RECORD_PRINTS).values(row))
    return pdf


def typeset(access: Access, record: Record, paper: Paper) -> bytes:
    """Return a signed record as a PDF, without a note of it.

    Parameters
    ----------
    access : Access
        The store.
    record : Record
        A signed version.
    paper : "letter" or "a4"
        Size of the paper.

    Raises
    ------
    InvalidInput
        If the paper is not known, or a photo is lost.
    """
    document = record.document
    return handover_sheet(
        document,
        photos_of(access, document),
        text=record.text,
        checksum=record.checksum or "",
        paper=paper,
    )


def preview_pdf(access: Access, document: Mapping[str, Any], paper: Paper) -> bytes:
    """Return the document of a draft as a PDF that says it is one.

    Parameters
    ----------
    access : Access
        The store.
    document : mapping
        What the draft says now.
    paper : "letter" or "a4"
        Size of the paper.

    Raises
    ------
    InvalidInput
        If the paper is not known, or a photo is lost.
    """
    return handover_sheet(document, photos_of(access, document), paper=paper)


def pages_of(
    access: Access, document: Mapping[str, Any], checksum: str, paper: Paper
) -> tuple[bytes, ...]:
    """Return the pages of a record or a draft as pictures to look at, each a PNG.

    Parameters
    ----------
    access : Access
        The store.
    document : mapping
        What it says.
    checksum : str
        Its sum; empty for a draft.
    paper : "letter" or "a4"
        Size of the paper.

    Raises
    ------
    InvalidInput
        If the paper is not known, or a photo is lost.
    """
    photos = photos_of(access, document)
    return handover_pages(document, photos, checksum=checksum, paper=paper)


def photos_of(access: Access, document: Mapping[str, Any]) -> list[bytes]:
    """Return the photos of a document, in its order.

    Parameters
    ----------
    access : Access
        The store.
    document : mapping
        What a record says.

    Raises
    ------
    InvalidInput
        If one is lost.
    """
    records = RecordReading(access)
    return [records.photo(each["sha256"]).data for each in document["photos"]]
