"""The handover sheet: the record of a rig as a PDF that can be proved.

The same document always gives the same bytes, so a PDF whose text was changed is known by printing
the record again. The document itself travels in the PDF as a file: its SHA-256 is the checksum.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from loomwright.sheets import handover_content as parts
from loomwright.sheets.handover_mark import Mark
from loomwright.sheets.handover_pictures import code_svg, photo_svg
from loomwright.sheets.typeset import Content, Paper, page_size, set_pages, set_pdf
from loomwright.sheets.words import capital

Document = Mapping[str, Any]
CODE_SAYS = "Square code with the number and the checksum of this record"


def handover_sheet(
    document: Document,
    photos: Sequence[bytes],
    *,
    text: str = "",
    checksum: str = "",
    paper: Paper = "letter",
) -> bytes:
    """Return the record as a PDF: tagged, in our own fonts, the same bytes every time.

    Parameters
    ----------
    document : mapping
        What the record says.
    photos : sequence of bytes
        Its photos, in the order of the document.
    text : str
        The document as its checksum was taken; travels in the PDF as a file.
    checksum : str
        Sum of that text; empty for a draft, which is printed as one.
    paper : "letter" or "a4"
        Size of the paper.

    Raises
    ------
    InvalidInput
        If the paper is not known.
    """
    return set_pdf(content(document, checksum, paper), "handover", _raw(document, photos, text))


def handover_pages(
    document: Document, photos: Sequence[bytes], *, checksum: str = "", paper: Paper = "letter"
) -> tuple[bytes, ...]:
    """Return the pages of the record as pictures to look at, each a PNG.

    Parameters
    ----------
    document : mapping
        What the record says.
    photos : sequence of bytes
        Its photos, in the order of the document.
    checksum : str
        Sum of the document; empty for a draft.
    paper : "letter" or "a4"
        Size of the paper.

    Raises
    ------
    InvalidInput
        If the paper is not known.
    """
    return set_pages(content(document, checksum, paper), "handover", _raw(document, photos, ""))


def draws(data: bytes, kind: str) -> bool:
    """Return whether the typesetter can draw a photo.

    Parameters
    ----------
    data : bytes
        The photo.
    kind : str
        ``jpeg``, ``png`` or ``webp``.
    """
    photo = {"kind": kind, "width": 400, "height": 400, "turned": 1}
    try:
        set_pdf({}, "photo", {"picture": photo_svg(data, photo)})
    except RuntimeError:
        return False
    return True


def content(document: Document, checksum: str = "", paper: Paper = "letter") -> Content:
    """Return everything the sheet shows, section by section, as values JSON takes.

    Parameters
    ----------
    document : mapping
        What the record says.
    checksum : str
        Its sum; empty for a draft.
    paper : "letter" or "a4"
        Size of the paper.

    Raises
    ------
    InvalidInput
        If the paper is not known.
    """
    head = parts.head(document)
    number = head["number"]
    state = f"checksum {checksum[:8]}" if checksum else "DRAFT, not signed"
    return {
        "title": f"Record of work: {head['rig']}",
        **page_size(paper),
        "stations": list(parts.STATIONS),
        "foot": f"{head['rig']} · record {number} · {state}",
        "keywords": [str(_mark(document, checksum, paper))] if checksum else [],
        "head": head,
        "done": parts.done(document),
        "wires": parts.wires(document),
        "places": parts.places(document),
        "readings": parts.readings(document),
        "not_tested": [capital(each) for each in document["not_tested"]],
        "owner": parts.owner(document),
        "photos": parts.photos(document),
        "signed": {
            "signatures": [*parts.signatures(document)],
            "checksum": parts.checksum_words(checksum),
            "earlier": parts.checksum_words(document["earlier_checksum"] or ""),
            "code": _code(document, checksum, paper),
            "rig_version": document["rig_version"],
        },
    }


def _mark(document: Document, checksum: str, paper: Paper) -> Mark:
    return Mark(document["record"], document["version"], checksum, paper)


def _code(document: Document, checksum: str, paper: Paper) -> dict[str, str] | None:
    if not checksum:
        return None
    return {"svg": code_svg(_mark(document, checksum, paper).code), "alt": CODE_SAYS}


def _raw(document: Document, photos: Sequence[bytes], text: str) -> dict[str, str]:
    """Return what the template takes exactly as it is."""
    said = zip(photos, document["photos"], strict=True)
    pictures = [photo_svg(data, each) for data, each in said]
    return {"pictures": json.dumps(pictures), "record": text}
