"""Small pictures for the tests: 24 by 16, red, its upper left quarter blue.

Made once with an image library: baseline and progressive JPEG, lossy and lossless WebP, PNG.
"""

from base64 import b64decode

JPEG = b64decode(
    "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDABQODxIPDRQSEBIXFRQYHjIhHhwcHj0sLiQySUBMS0dARkVQWnNiUFVt"
    "VkVGZIhlbXd7gYKBTmCNl4x9lnN+gXz/2wBDARUXFx4aHjshITt8U0ZTfHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8"
    "fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHz/wAARCAAQABgDASIAAhEBAxEB/8QAHwAAAQUBAQEBAQEAAAAAAAAA"
    "AAECAwQFBgcICQoL/8QAtRAAAgEDAwIEAwUFBAQAAAF9AQIDAAQRBRIhMUEGE1FhByJxFDKBkaEII0KxwRVS0fAk"
    "M2JyggkKFhcYGRolJicoKSo0NTY3ODk6Q0RFRkdISUpTVFVWV1hZWmNkZWZnaGlqc3R1dnd4eXqDhIWGh4iJipKT"
    "lJWWl5iZmqKjpKWmp6ipqrKztLW2t7i5usLDxMXGx8jJytLT1NXW19jZ2uHi4+Tl5ufo6erx8vP09fb3+Pn6/8QA"
    "HwEAAwEBAQEBAQEBAQAAAAAAAAECAwQFBgcICQoL/8QAtREAAgECBAQDBAcFBAQAAQJ3AAECAxEEBSExBhJBUQdh"
    "cRMiMoEIFEKRobHBCSMzUvAVYnLRChYkNOEl8RcYGRomJygpKjU2Nzg5OkNERUZHSElKU1RVVldYWVpjZGVmZ2hp"
    "anN0dXZ3eHl6goOEhYaHiImKkpOUlZaXmJmaoqOkpaanqKmqsrO0tba3uLm6wsPExcbHyMnK0tPU1dbX2Nna4uPk"
    "5ebn6Onq8vP09fb3+Pn6/9oADAMBAAIRAxEAPwDl6tWf8f4VZoroxOafWKTp8lr+fn6Ht4fLvYVVU5r28v8AghRR"
    "RXjnqn//2Q=="
)
PROGRESSIVE = b64decode(
    "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDABQODxIPDRQSEBIXFRQYHjIhHhwcHj0sLiQySUBMS0dARkVQWnNiUFVt"
    "VkVGZIhlbXd7gYKBTmCNl4x9lnN+gXz/2wBDARUXFx4aHjshITt8U0ZTfHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8"
    "fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHz/wgARCAAQABgDASIAAhEBAxEB/8QAFgABAQEAAAAAAAAAAAAAAAAA"
    "AAMF/8QAFQEBAQAAAAAAAAAAAAAAAAAABAP/2gAMAwEAAhADEAAAAcutFGgNf//EABYQAAMAAAAAAAAAAAAAAAAA"
    "AAACIP/aAAgBAQABBQISf//EABkRAAEFAAAAAAAAAAAAAAAAABICAwQQEf/aAAgBAwEBPwFuOCi2v//EABoRAAAH"
    "AAAAAAAAAAAAAAAAAAIDBBAREhP/2gAIAQIBAT8BMVaBrDf/xAAUEAEAAAAAAAAAAAAAAAAAAAAg/9oACAEBAAY/"
    "Al//xAAWEAADAAAAAAAAAAAAAAAAAAAAIEH/2gAIAQEAAT8hKX//2gAMAwEAAgADAAAAEDfP/8QAGBEAAgMAAAAA"
    "AAAAAAAAAAAAEBEhYeH/2gAIAQMBAT8QTyKtH//EABgRAAIDAAAAAAAAAAAAAAAAABFhECFx/9oACAECAQE/EDNJ"
    "byP/xAAWEAADAAAAAAAAAAAAAAAAAAAAIMH/2gAIAQEAAT8QIr//2Q=="
)
WEBP = b64decode(
    "UklGRlQAAABXRUJQVlA4IEgAAAAQAwCdASoYABAAPu1iqU2ppaQiMAgBMB2JQBOl0AAQNgAA/uzZW+TX10feS72X"
    "/nEkn/mbd/U3WNtvbYf6dk/0N/4C8zqyAAA="
)
LOSSLESS = b64decode("UklGRigAAABXRUJQVlA4TBwAAAAvF8ADAA8Q87//8x8OhASE/2s9UE2I6P8EYNMP")
PNG = b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAABgAAAAQCAIAAACDRijCAAAALElEQVR4nGNkYPjPQAj8Z2AkqIaJoAoiwahBQ9Eg"
    "RsKpiDgw+Lw2ahAdDQIAhBcDHex9f14AAAAASUVORK5CYII="
)


def tiff(*, turned: int = 1, order: str = "big") -> bytes:
    """An Exif note with a place, a device and which way is up, as a phone writes it.

    Layout: CIPA DC-008 (Exif), 4.5.2 and 4.6: the head, then a directory of 12-byte entries.
    """
    big = order == "big"

    def n(value: int, size: int) -> bytes:
        return value.to_bytes(size, "big" if big else "little")

    def entry(tag: int, kind: int, count: int, value: bytes) -> bytes:
        return n(tag, 2) + n(kind, 2) + n(count, 4) + value.ljust(4, b"\0")

    maker, place = b"PHONE-MAKER\0", b"52.5163N"
    data_at = 8 + 2 + 3 * 12 + 4
    gps_at = data_at + len(maker)
    directory = n(3, 2) + b"".join(
        (
            entry(0x010F, 2, len(maker), n(data_at, 4)),
            entry(0x0112, 3, 1, n(turned, 2)),
            entry(0x8825, 4, 1, n(gps_at, 4)),
        )
    )
    gps = n(1, 2) + entry(0x001C, 7, len(place), n(gps_at + 2 + 12 + 4, 4)) + n(0, 4) + place
    head = b"MM\0*" if big else b"II*\0"
    return head + n(8, 4) + directory + n(0, 4) + maker + gps


XMP = b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>XMP-SECRET 13.377E</x:xmpmeta>"
IPTC = b"Photoshop 3.0\x008BIM\x04\x04\0\0\0\x14\x1c\x02\x5a\0\x0dIPTC-SECRET-X"
SECRETS = (b"52.5163N", b"PHONE-MAKER", b"SECRET", b"13.377E", b"HIDDEN")


def segment(marker: int, body: bytes) -> bytes:
    """A JPEG marker segment (ITU-T T.81, B.1.1.4)."""
    return bytes((0xFF, marker)) + (len(body) + 2).to_bytes(2, "big") + body


def told_jpeg(picture: bytes = JPEG, *, turned: int = 1, order: str = "big") -> bytes:
    """A JPEG that tells all a phone can: Exif with GPS, XMP, IPTC, a comment, a second picture."""
    told = (
        segment(0xE1, b"Exif\0\0" + tiff(turned=turned, order=order)),
        segment(0xE1, XMP),
        segment(0xE2, b"MPF\0HIDDEN index"),
        segment(0xED, IPTC),
        segment(0xFE, b"COMMENT-SECRET"),
    )
    return picture[:2] + b"".join(told) + picture[2:] + b"HIDDEN" + picture


def chunk(name: bytes, body: bytes) -> bytes:
    """A PNG chunk (W3C PNG, 5.3): length, name, body, CRC."""
    from zlib import crc32

    return len(body).to_bytes(4, "big") + name + body + crc32(name + body).to_bytes(4, "big")


def told_png(*, turned: int = 1) -> bytes:
    """A PNG with text of each kind, a time, an Exif note, and something after its end."""
    told = (
        chunk(b"tEXt", b"Location\0TEXT-SECRET"),
        chunk(b"iTXt", b"XML:com.adobe.xmp\0\0\0\0\0" + XMP),
        chunk(b"tIME", b"\x07\xea\x0b\x18\x09\x1e\0"),
        chunk(b"eXIf", tiff(turned=turned)),
        chunk(b"prVt", b"PRIVATE-SECRET"),
    )
    return PNG[:33] + b"".join(told) + PNG[33:] + b"HIDDEN"


def told_webp(picture: bytes = WEBP, *, turned: int = 1) -> bytes:
    """A WebP with Exif and XMP (RFC 9649, 2.7), flags said, and something after its end."""

    def part(name: bytes, body: bytes) -> bytes:
        return name + len(body).to_bytes(4, "little") + body + bytes(len(body) % 2)

    size = (23).to_bytes(3, "little") + (15).to_bytes(3, "little")
    inside = b"".join(
        (
            b"WEBP",
            part(b"VP8X", bytes((0x0C, 0, 0, 0)) + size),
            picture[12:],
            part(b"EXIF", tiff(turned=turned)),
            part(b"XMP ", XMP),
            part(b"SECR", b"CHUNK-SECRET"),
        )
    )
    return b"RIFF" + len(inside).to_bytes(4, "little") + inside + b"HIDDEN"
