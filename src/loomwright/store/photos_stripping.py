"""What a photo tells beside its picture is taken out: place, time, device, hidden pictures.

Only what draws the picture is copied; whatever is not known to draw is left behind, and so is all
that follows the end of the picture. Which way is up is kept, in a note that holds nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.store.photos_jpeg import strip_jpeg
from loomwright.store.photos_png import strip_png
from loomwright.store.photos_reading import Broken
from loomwright.store.photos_webp import strip_webp

Kind = Literal["jpeg", "png", "webp"]

MOST_BYTES = 10_000_000
"""Largest photo that is taken in. [bytes]"""

MOST_PIXELS = 50_000_000
"""Most pixels of a photo: a small file can unfold to a huge picture."""

LEAST_SIDE = 16
MOST_SIDE = 12_000
Strip = Callable[[bytes], tuple[int, int, int, bytes]]
TAKEN = "choose a photo in JPEG, PNG or WebP"
BROKEN = "take or choose it again: this one is cut short or damaged"


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo with nothing in it but its picture.

    Sides in pixels, as stored; `turned` says which way is up, 1 to 8 as in Exif: 1 as stored.
    """

    kind: Kind
    width: int
    height: int
    turned: int
    data: bytes


def stripped(data: bytes, field: str = "photo") -> Picture:
    """Return a photo without anything that is not needed to draw it.

    Parameters
    ----------
    data : bytes
        What was sent.
    field : str
        Its path in whatever holds it, for messages.

    Raises
    ------
    InvalidInput
        If it is empty, too large, of another kind, animated, or damaged.

    References
    ----------
    itu-t-t81, annex B (JPEG); w3c-png-3, 5 and 11 (PNG); rfc-9649, 2 (WebP).
    """
    if not data:
        raise InvalidInput(field, "", TAKEN)
    if len(data) > MOST_BYTES:
        said = f"{len(data) / 1e6:.1f} MB"
        raise InvalidInput(field, said, f"send at most {MOST_BYTES / 1e6:.0f} MB a photo")
    kind, strip = _kind(data, field)
    try:
        width, height, turned, clean = strip(data)
    except Broken as broken:
        raise InvalidInput(field, str(broken), broken.fix or BROKEN) from broken
    _check_size(width, height, field)
    return Picture(kind, width, height, turned, clean)


def _kind(data: bytes, field: str) -> tuple[Kind, Strip]:
    """Return the kind by how the file begins, whatever its name says."""
    if data.startswith(b"\xff\xd8\xff"):
        return "jpeg", strip_jpeg
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png", strip_png
    if data.startswith(b"RIFF") and data[8:12] == b"WEBP":
        return "webp", strip_webp
    raise InvalidInput(field, next(_looks_like(data)), TAKEN)


def _looks_like(data: bytes) -> Iterator[str]:
    """Yield what a file seems to be, for the message."""
    if data[4:8] == b"ftyp":
        is_film = data[8:11] in {b"mp4", b"iso", b"qt ", b"M4V", b"avc"}
        yield "a film" if is_film else "a HEIC or AVIF picture"
    for head, words in (
        (b"GIF8", "a GIF"),
        (b"%PDF", "a PDF"),
        (b"II*\0", "a TIFF or raw picture"),
        (b"MM\0*", "a TIFF or raw picture"),
        (b"<", "a drawing or a web page"),
        (b"PK", "an archive"),
        (b"BM", "a BMP"),
    ):
        if data.startswith(head):
            yield words
    yield "no photo"


def _check_size(width: int, height: int, field: str) -> None:
    said = f"{width} × {height} pixels"
    if min(width, height) < LEAST_SIDE:
        raise InvalidInput(field, said, f"choose a photo at least {LEAST_SIDE} pixels each way")
    if max(width, height) > MOST_SIDE or width * height > MOST_PIXELS:
        fix = f"choose one of at most {MOST_PIXELS // 1_000_000} million pixels"
        raise InvalidInput(field, said, f"{fix}, and {MOST_SIDE} on a side")
