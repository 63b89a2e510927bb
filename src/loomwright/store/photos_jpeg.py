"""JPEG: the marker segments that draw, and the scans; every other segment is left behind."""

from __future__ import annotations

from loomwright.store.photos_reading import UPRIGHT, Broken, orientation, orientation_note, take

SOI, EOI, SOS = 0xD8, 0xD9, 0xDA
FRAMES = frozenset({0xC0, 0xC1, 0xC2})  # baseline, extended, progressive; Huffman, 8 bits
OTHER_FRAMES = frozenset({0xC3, *range(0xC5, 0xC8), *range(0xC9, 0xCC), *range(0xCD, 0xD0)})
TABLES = frozenset({0xC4, 0xDB, 0xDD})  # Huffman, quantisation, restart interval
APP0, APP1, APP2, APP14 = 0xE0, 0xE1, 0xE2, 0xEE
EXIF = b"Exif\0\0"
JFIF = b"JFIF\0"
PROFILE = b"ICC_PROFILE\0"
ADOBE = b"Adobe"
JFIF_BYTES = 14
OTHER_KIND = "save it as a plain colour JPEG, or take it again with the phone's own camera"


def strip_jpeg(data: bytes) -> tuple[int, int, int, bytes]:
    """Return width, height, which way is up, and the file with its picture alone.

    Raises
    ------
    Broken
        If it is damaged, or of a kind that is not drawn everywhere.
    """
    kept: list[bytes] = []
    size: tuple[int, int] | None = None
    turned, at, scans = UPRIGHT, 2, 0
    while True:
        marker, body, at = _segment(data, at)
        if marker == EOI:
            break
        if marker in FRAMES:
            size = _frame(body) if size is None else _twice()
        elif marker in OTHER_FRAMES:
            raise Broken("a JPEG of a rare kind", OTHER_KIND)
        elif marker == APP1 and body.startswith(EXIF) and turned == UPRIGHT:
            turned = orientation(body[len(EXIF) :])
        if (drawn := _drawn(marker, body)) is not None:
            kept.append(_written(marker, drawn))
        if marker == SOS:
            scan_end = _scan_end(data, at)
            kept.append(data[at:scan_end])
            at, scans = scan_end, scans + 1
    if size is None or not scans:
        raise Broken("a JPEG without a picture")
    note = _written(APP1, EXIF + orientation_note(turned)) if turned != UPRIGHT else b""
    first = 1 if kept and kept[0][1] == APP0 else 0  # the JFIF head stays in front
    clean = b"".join((b"\xff\xd8", *kept[:first], note, *kept[first:], b"\xff\xd9"))
    return (*size, turned, clean)


def _segment(data: bytes, at: int) -> tuple[int, bytes, int]:
    """Return the marker at a place, what it carries, and where the next one stands."""
    if take(data, at, 1) != b"\xff":
        raise Broken("a damaged JPEG")
    while take(data, at, 1) == b"\xff":  # a marker may be preceded by any number of these
        at += 1
    marker = data[at]
    at += 1
    if marker == EOI:
        return marker, b"", at
    if marker in {0x00, 0x01, SOI} or 0xD0 <= marker <= 0xD7:
        raise Broken("a damaged JPEG")
    length = int.from_bytes(take(data, at, 2), "big")
    return marker, take(data, at + 2, length - 2), at + length


def _drawn(marker: int, body: bytes) -> bytes | None:
    """Return what of a segment the picture needs; None for nothing."""
    if marker in FRAMES | TABLES | {SOS}:
        return body
    if marker == APP0 and body.startswith(JFIF) and len(body) >= JFIF_BYTES:
        return body[: JFIF_BYTES - 2] + b"\0\0"  # its small preview is left behind
    if marker == APP2 and body.startswith(PROFILE):
        return body
    if marker == APP14 and body.startswith(ADOBE):
        return body[:12]
    return None


def _written(marker: int, body: bytes) -> bytes:
    return bytes((0xFF, marker)) + (len(body) + 2).to_bytes(2, "big") + body


def _frame(body: bytes) -> tuple[int, int]:
    """Return width and height."""
    precision, height, width, parts = (
        int.from_bytes(take(body, start, count), "big")
        for start, count in ((0, 1), (1, 2), (3, 2), (5, 1))
    )
    if precision != 8 or parts not in {1, 3}:
        raise Broken("a JPEG of a rare kind", OTHER_KIND)
    return width, height


def _twice() -> tuple[int, int]:
    raise Broken("a JPEG with two pictures in one", OTHER_KIND)


def _scan_end(data: bytes, at: int) -> int:
    """Return where the next marker after a scan stands."""
    while (found := data.find(b"\xff", at)) >= 0:
        after = data[found + 1 : found + 2]
        if not after:
            break
        if after == b"\0" or 0xD0 <= after[0] <= 0xD7:
            at = found + 2
        elif after == b"\xff":
            at = found + 1
        else:
            return found
    raise Broken("a photo that ends too early")
