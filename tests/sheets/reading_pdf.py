"""Reads a PDF back with another library than the one that wrote it."""

import io
from collections.abc import Iterator

from pypdf import PdfReader


def each_page(pdf: bytes) -> Iterator[str]:
    """Text of each page, every run of white space as one space; read as far as it is asked for."""
    for page in PdfReader(io.BytesIO(pdf)).pages:
        yield " ".join(page.extract_text().replace("\u00a0", " ").split())


def pages(pdf: bytes) -> list[str]:
    return list(each_page(pdf))


def text(pdf: bytes) -> str:
    return " ".join(pages(pdf))


def sizes_mm(pdf: bytes) -> set[tuple[float, float]]:
    """Width and height of every page, as it is turned, in tenths of a millimetre."""
    return {
        (
            round(float(page.mediabox.width) * 25.4 / 72, 1),
            round(float(page.mediabox.height) * 25.4 / 72, 1),
        )
        for page in PdfReader(io.BytesIO(pdf)).pages
    }
