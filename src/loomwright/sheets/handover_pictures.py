"""Pictures of the handover sheet: photos, signatures, the square code; each an SVG."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping, Sequence
from typing import Any

from loomwright.drawing.svg import el, points

SIGN_WIDTH, SIGN_HEIGHT = 1000, 400
SIDEWAYS = frozenset({5, 6, 7, 8})
TURNS = {
    1: "translate(0 0)",
    2: "translate({w} 0) scale(-1 1)",
    3: "translate({w} {h}) rotate(180)",
    4: "translate(0 {h}) scale(1 -1)",
    5: "rotate(90) scale(1 -1)",
    6: "translate({h} 0) rotate(90)",
    7: "translate({h} {w}) rotate(90) scale(-1 1)",
    8: "translate(0 {w}) rotate(-90)",
}
"""How a picture of width w and height h, as stored, is brought upright (Exif tag 274)."""


def photo_svg(data: bytes, photo: Mapping[str, Any]) -> str:
    """Return a photo upright; its bytes go in as they are.

    Parameters
    ----------
    data : bytes
        The photo.
    photo : mapping
        Its `kind`, `width`, `height` and `turned`.
    """
    turn = TURNS[photo["turned"]].format(w=photo["width"], h=photo["height"])
    address = f"data:image/{photo['kind']};base64,{b64encode(data).decode('ascii')}"
    picture = (
        f'<image width="{photo["width"]}" height="{photo["height"]}" href="{address}" '
        f'transform="{turn}"/>'
    )
    return _svg(*upright(photo), picture)


def upright(photo: Mapping[str, Any]) -> tuple[int, int]:
    """Return width and height of a photo as it is looked at."""
    width, height = int(photo["width"]), int(photo["height"])
    return (height, width) if photo["turned"] in SIDEWAYS else (width, height)


def signature_svg(strokes: Sequence[Sequence[Sequence[int]]]) -> str:
    """Return a signature as it was drawn."""
    lines = [
        el(
            "path",
            d=_path(stroke),
            fill="none",
            stroke="#1d2124",
            stroke_width=7,
            stroke_linecap="round",
            stroke_linejoin="round",
        )
        for stroke in strokes
    ]
    return _svg(SIGN_WIDTH, SIGN_HEIGHT, "".join(lines))


def code_svg(text: str) -> str:
    """Return a square code that any camera reads, with the quiet edge it needs."""
    import segno

    code = segno.make(text, error="m", micro=False)
    edge = 4
    side = len(code.matrix) + 2 * edge
    path = "".join(
        f"M{x + edge} {y + edge}h1v1h-1z"
        for y, row in enumerate(code.matrix)
        for x, dark in enumerate(row)
        if dark
    )
    return _svg(side, side, el("path", d=path, fill="#000000"))


def _path(stroke: Sequence[Sequence[int]]) -> str:
    """Return a stroke as path data; a dot is drawn too."""
    path = points(*((x, y) for x, y in stroke))
    return path if len(stroke) > 1 else f"{path}h0.1"


def _svg(width: int, height: int, inside: str) -> str:
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'viewBox="0 0 {width} {height}">'
    )
    return f"{head}{inside}</svg>"
