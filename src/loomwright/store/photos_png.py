"""PNG: the chunks that draw, each with its sum proved; every other chunk is left behind."""

from __future__ import annotations

import zlib

from loomwright.store.photos_reading import UPRIGHT, Broken, orientation, orientation_note, take

HEAD = b"\x89PNG\r\n\x1a\n"
NEEDED = frozenset({b"IHDR", b"PLTE", b"IDAT", b"IEND"})
COLOUR = frozenset({b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"sBIT", b"cICP", b"iCCP"})
"""How the colours are meant."""

NOTE = b"eXIf"


def strip_png(data: bytes) -> tuple[int, int, int, bytes]:
    """Return width, height, which way is up, and the file with its picture alone.

    Raises
    ------
    Broken
        If it is damaged.
    """
    kept: list[tuple[bytes, bytes]] = []
    at, name, turned = len(HEAD), b"", UPRIGHT
    while name != b"IEND":
        length = int.from_bytes(take(data, at, 4), "big")
        name, body = take(data, at + 4, 4), take(data, at + 8, length)
        _prove(name, body, take(data, at + 8 + length, 4))
        at += length + 12
        if name in NEEDED | COLOUR:
            kept.append((name, body))
        elif name == NOTE:
            turned = orientation(body)
        elif name[:1].isupper():
            raise Broken("a PNG with a part that is not known")
    names = [each for each, _ in kept]
    if names[0] != b"IHDR" or len(kept[0][1]) != 13 or b"IDAT" not in names:
        raise Broken("a PNG without a picture")
    if turned != UPRIGHT:
        kept.insert(1, (NOTE, orientation_note(turned)))
    head = kept[0][1]
    size = int.from_bytes(head[:4], "big"), int.from_bytes(head[4:8], "big")
    return (*size, turned, HEAD + b"".join(_written(*each) for each in kept))


def _prove(name: bytes, body: bytes, said: bytes) -> None:
    if zlib.crc32(name + body).to_bytes(4, "big") != said or not name.isalpha():
        raise Broken("a damaged PNG")


def _written(name: bytes, body: bytes) -> bytes:
    crc = zlib.crc32(name + body).to_bytes(4, "big")
    return len(body).to_bytes(4, "big") + name + body + crc
