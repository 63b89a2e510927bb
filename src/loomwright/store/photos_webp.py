"""WebP: the chunks that draw; every other chunk is left behind."""

from __future__ import annotations

from loomwright.store.photos_reading import UPRIGHT, Broken, orientation, orientation_note, take

PICTURES = frozenset({b"VP8 ", b"VP8L"})
EXTENDED, NOTE, PROFILE = b"VP8X", b"EXIF", b"ICCP"
DRAWS = PICTURES | {b"ALPH", PROFILE}
MOVES = frozenset({b"ANIM", b"ANMF"})
HAS_PROFILE, HAS_ALPHA, HAS_NOTE = 0x20, 0x10, 0x08
EXIF = b"Exif\0\0"


def strip_webp(data: bytes) -> tuple[int, int, int, bytes]:
    """Return width, height, which way is up, and the file with its picture alone.

    Raises
    ------
    Broken
        If it is damaged, or moves.
    """
    kept, turned = _chunks(data)
    pictures = [(name, body) for name, body in kept if name in PICTURES]
    if len(pictures) != 1:
        raise Broken("a WebP without a picture")
    size = _size(*pictures[0])
    names = {name for name, _ in kept}
    flags = (HAS_PROFILE if PROFILE in names else 0) | (HAS_ALPHA if b"ALPH" in names else 0)
    if turned != UPRIGHT:
        kept.append((NOTE, orientation_note(turned)))
        flags |= HAS_NOTE
    if len(kept) > 1:
        kept.insert(0, (EXTENDED, _extended(flags, *size)))
    body = b"WEBP" + b"".join(_written(*each) for each in kept)
    return (*size, turned, b"RIFF" + len(body).to_bytes(4, "little") + body)


def _chunks(data: bytes) -> tuple[list[tuple[bytes, bytes]], int]:
    """Return the chunks that draw, and which way is up."""
    whole = take(data, 0, 8 + int.from_bytes(take(data, 4, 4), "little"))
    kept: list[tuple[bytes, bytes]] = []
    at, turned = 12, UPRIGHT
    while at < len(whole):
        name, length = take(whole, at, 4), int.from_bytes(take(whole, at + 4, 4), "little")
        body = take(whole, at + 8, length)
        at += 8 + length + length % 2
        if name in MOVES:
            raise Broken("a WebP that moves", "choose a still photo")
        if name in DRAWS:
            kept.append((name, body))
        elif name == NOTE:
            turned = orientation(body.removeprefix(EXIF))
    order = (PROFILE, b"ALPH", *PICTURES)
    return sorted(kept, key=lambda each: order.index(each[0])), turned


def _size(name: bytes, body: bytes) -> tuple[int, int]:
    """Return width and height, from the picture itself."""
    if name == b"VP8L":
        if take(body, 0, 1) != b"\x2f":
            raise Broken("a damaged WebP")
        bits = int.from_bytes(take(body, 1, 4), "little")
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    if take(body, 3, 3) != b"\x9d\x01\x2a":
        raise Broken("a damaged WebP")
    width, height = (int.from_bytes(take(body, start, 2), "little") for start in (6, 8))
    return width & 0x3FFF, height & 0x3FFF


def _extended(flags: int, width: int, height: int) -> bytes:
    return bytes((flags, 0, 0, 0)) + b"".join(
        (side - 1).to_bytes(3, "little") for side in (width, height)
    )


def _written(name: bytes, body: bytes) -> bytes:
    return name + len(body).to_bytes(4, "little") + body + bytes(len(body) % 2)
