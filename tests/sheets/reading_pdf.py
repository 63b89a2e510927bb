"""Reads a PDF back with another library than the one that wrote it."""

import io

from pypdf import PdfReader


def pages(pdf: bytes) -> list[str]:
    """Text of each page, every run of white space as one space."""
    return [
        " ".join(page.extract_text().replace("\u00a0", " ").split())
        for page in PdfReader(io.BytesIO(pdf)).pages
    ]


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
