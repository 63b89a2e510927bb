"""How much a request may bring: little, but for the addresses that take photos and PDFs."""

from __future__ import annotations

import re
from collections.abc import Callable

from loomwright.store.photos_stripping import MOST_BYTES
from loomwright.store.records_verifying import MOST_PDF_BYTES

AROUND = 100_000
"""Room for the form around a file. [bytes]"""

AT_ONCE = 6
"""Photos that are sent in one form."""

PHOTOS = re.compile(r"/rigs/[^/]+/record/photos")
LARGE = ((PHOTOS, AT_ONCE * MOST_BYTES), (re.compile("/verify"), MOST_PDF_BYTES))


def most_bytes(usual: int) -> Callable[[str], int]:
    """Return what tells the most bytes that a request to an address may bring.

    Parameters
    ----------
    usual : int
        For every address that takes no files.
    """

    def most(path: str) -> int:
        for address, size in LARGE:
            if address.fullmatch(path):
                return size + AROUND
        return usual

    return most


def takes_photos(path: str) -> bool:
    """Return whether an address takes photos."""
    return PHOTOS.fullmatch(path) is not None
