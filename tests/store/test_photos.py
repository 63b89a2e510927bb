"""What a photo tells beside its picture is gone before it is kept; what is no photo is refused."""

import struct
import zlib
from collections.abc import Callable, Iterator

import pytest
from tests.store.pictures import (
    JPEG,
    LOSSLESS,
    PNG,
    PROGRESSIVE,
    SECRETS,
    WEBP,
    chunk,
    segment,
    told_jpeg,
    told_png,
    told_webp,
)

from loomwright.invalid import InvalidInput
from loomwright.sheets.handover import draws
from loomwright.store.photos_stripping import MOST_BYTES, stripped

TOLD: dict[str, Callable[..., bytes]] = {
    "jpeg": told_jpeg,
    "progressive": lambda **how: told_jpeg(PROGRESSIVE, **how),
    "png": told_png,
    "webp": told_webp,
    "lossless": lambda **how: told_webp(LOSSLESS, **how),
}


def jpeg_segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Read a JPEG anew, apart from the code: every segment before the first scan."""
    assert data[:2] == b"\xff\xd8"
    at = 2
    while data[at + 1] != 0xDA:
        length = struct.unpack(">H", data[at + 2 : at + 4])[0]
        yield data[at + 1], data[at + 4 : at + 2 + length]
        at += 2 + length


def png_chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    at = 8
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        yield data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        at += length + 12


def webp_chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    assert struct.unpack("<I", data[4:8])[0] == len(data) - 8
    at = 12
    while at < len(data):
        (length,) = struct.unpack("<I", data[at + 4 : at + 8])
        yield data[at : at + 4], data[at + 8 : at + 8 + length]
        at += 8 + length + length % 2


@pytest.mark.parametrize("kind", TOLD)
@pytest.mark.parametrize("turned", [1, 6])
def test_nothing_but_the_picture_and_which_way_is_up_is_kept(kind: str, turned: int) -> None:
    sent = TOLD[kind](turned=turned)
    assert all(any(secret in sent for secret in SECRETS) for _ in SECRETS)

    picture = stripped(sent)

    assert [secret for secret in SECRETS if secret in picture.data] == []
    assert (picture.width, picture.height, picture.turned) == (24, 16, turned)
    assert draws(picture.data, picture.kind)


def test_a_jpeg_keeps_the_segments_that_draw_and_no_other() -> None:
    """Marker codes: ITU-T T.81, table B.1; application segments: JFIF 1.02, CIPA DC-008."""
    before = [one for one in jpeg_segments(JPEG) if one[0] != 0xE0]

    plain = [*jpeg_segments(stripped(told_jpeg()).data)]
    turned = [*jpeg_segments(stripped(told_jpeg(turned=8)).data)]

    assert plain[0][0] == 0xE0
    assert plain[1:] == before
    assert [marker for marker, _ in turned if marker in range(0xE1, 0xF0)] == [0xE1]
    note = dict(turned)[0xE1]
    assert note.startswith(b"Exif\0\0MM\0*")
    count, tag, kind, _, value = struct.unpack(">HHHIH", note[14:26])
    assert (count, tag, kind, value) == (1, 0x0112, 3, 8)
    assert len(note) == 6 + 8 + 2 + 12 + 4


def test_a_jpeg_ends_where_its_first_picture_ends() -> None:
    data = stripped(told_jpeg()).data

    assert data.endswith(JPEG[-40:])
    assert data.count(b"\xff\xd8\xff") == 1


@pytest.mark.parametrize("order", ["big", "little"])
def test_which_way_is_up_is_read_in_either_byte_order(order: str) -> None:
    assert stripped(told_jpeg(turned=3, order=order)).turned == 3


def test_a_preview_in_the_jfif_head_is_left_behind() -> None:
    """JFIF 1.02: the last two bytes of the head are the sides of a thumbnail that follows."""
    head = segment(0xE0, b"JFIF\0\x01\x02\0\0\x01\0\x01\x01\x01HID")
    data = JPEG[:2] + head + JPEG[20:]

    (first, *_) = jpeg_segments(stripped(data).data)

    assert first == (0xE0, b"JFIF\0\x01\x02\0\0\x01\0\x01\0\0")


def test_a_png_keeps_the_chunks_that_draw_and_no_other() -> None:
    """Critical chunks: W3C PNG, 11.2; the note eXIf: 11.3.2.6."""
    plain = [*png_chunks(stripped(told_png()).data)]
    turned = [name for name, _ in png_chunks(stripped(told_png(turned=6)).data)]

    assert plain == [*png_chunks(PNG)]
    assert turned == [b"IHDR", b"eXIf", b"IDAT", b"IEND"]


def test_a_webp_keeps_the_chunks_that_draw_and_no_other() -> None:
    plain = [*webp_chunks(stripped(told_webp()).data)]
    turned = [*webp_chunks(stripped(told_webp(turned=6)).data)]

    assert plain == [*webp_chunks(WEBP)]
    assert [name for name, _ in turned] == [b"VP8X", b"VP8 ", b"EXIF"]
    assert turned[0][1] == bytes((0x08, 0, 0, 0, 23, 0, 0, 15, 0, 0))  # RFC 9649, 2.7.1


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        (b"", "JPEG, PNG or WebP"),
        (b"GIF89a" + bytes(40), "a GIF"),
        (b"%PDF-1.7" + bytes(40), "a PDF"),
        (b"\0\0\0\x18ftypheic" + bytes(40), "HEIC"),
        (b"\0\0\0\x18ftypmp42" + bytes(40), "a film"),
        (b"<svg/>", "a drawing"),
        (b"hello", "no photo"),
        (bytes(MOST_BYTES + 1), "at most 10 MB"),
    ],
)
def test_what_is_no_photo_is_refused_with_its_kind_and_the_mend(sent: bytes, says: str) -> None:
    with pytest.raises(InvalidInput, match=says) as refused:
        stripped(sent)

    assert refused.value.field == "photo"


@pytest.mark.parametrize("whole", [JPEG, PROGRESSIVE, PNG, WEBP, LOSSLESS])
def test_a_photo_cut_short_anywhere_is_refused(whole: bytes) -> None:
    for end in range(1, len(whole)):
        with pytest.raises(InvalidInput):
            stripped(whole[:end])


def test_a_png_with_a_changed_byte_is_refused() -> None:
    for place in range(8, len(PNG)):
        with pytest.raises(InvalidInput):
            stripped(PNG[:place] + bytes((PNG[place] ^ 1,)) + PNG[place + 1 :])


def test_a_small_file_that_unfolds_to_a_huge_picture_is_refused() -> None:
    head = struct.pack(">IIBBBBB", 40_000, 40_000, 8, 2, 0, 0, 0)
    body = zlib.compress(b"")
    bomb = PNG[:8] + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")

    with pytest.raises(InvalidInput, match="million pixels"):
        stripped(bomb)


def test_a_picture_in_four_inks_and_a_moving_one_are_refused() -> None:
    four = JPEG.replace(segment(0xC0, b"")[:2], b"\xff\xc3")
    moving = WEBP[:12] + b"ANIM" + struct.pack("<I", 6) + bytes(6) + WEBP[12:]
    moving = moving[:4] + struct.pack("<I", len(moving) - 8) + moving[8:]

    with pytest.raises(InvalidInput, match="rare kind"):
        stripped(four)
    with pytest.raises(InvalidInput, match="moves"):
        stripped(moving)


def test_a_picture_that_is_whole_outside_and_broken_inside_cannot_be_drawn() -> None:
    body = zlib.compress(b"nonsense")
    head = dict(png_chunks(PNG))[b"IHDR"]
    broken = PNG[:8] + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")

    assert not draws(stripped(broken).data, "png")
