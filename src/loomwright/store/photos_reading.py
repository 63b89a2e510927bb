"""Reading the bytes of a photo, and the one note that is kept: which way is up."""

from __future__ import annotations

from typing import Literal

ORIENTATION_TAG = 0x0112
SHORT = 3
UPRIGHT = 1
ORDERS: dict[bytes, Literal["little", "big"]] = {b"II*\0": "little", b"MM\0*": "big"}


class Broken(Exception):
    """A photo that cannot be read; `fix` is what to do, where it is more than taking another."""

    def __init__(self, says: str, fix: str = "") -> None:
        super().__init__(says)
        self.fix = fix


def take(data: bytes, start: int, count: int) -> bytes:
    """Return so many bytes from a place.

    Raises
    ------
    Broken
        If the file ends before.
    """
    part = data[start : start + count]
    if start < 0 or count < 0 or len(part) != count:
        raise Broken("a photo that ends too early")
    return part


def orientation(tiff: bytes) -> int:
    """Return which way is up by an Exif note, 1 to 8; 1 if it does not say.

    References
    ----------
    cipa-dc-008: 4.6.4, tag 274; 4.5.2 for the layout.
    """
    if tiff[:4] not in ORDERS:
        return UPRIGHT
    order = ORDERS[tiff[:4]]
    first = int.from_bytes(tiff[4:8], order)
    count = int.from_bytes(tiff[first : first + 2], order)
    for number in range(count):
        entry = tiff[first + 2 + 12 * number : first + 14 + 12 * number]
        if len(entry) < 12:
            break
        if int.from_bytes(entry[:2], order) == ORIENTATION_TAG:
            value = int.from_bytes(entry[8:10], order)
            return value if 1 <= value <= 8 else UPRIGHT
    return UPRIGHT


def orientation_note(turned: int) -> bytes:
    """Return an Exif note of one entry that says which way is up, and nothing else."""
    entry = b"".join(
        each.to_bytes(size, "big")
        for each, size in ((ORIENTATION_TAG, 2), (SHORT, 2), (1, 4), (turned, 2), (0, 2))
    )
    return b"MM\0*" + (8).to_bytes(4, "big") + (1).to_bytes(2, "big") + entry + bytes(4)
