"""The face of a socket or plug for a narrow page: shell, contacts and numbers, no labels."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.contacts import Form, contact
from loomwright.drawing.face_flat import flat_body
from loomwright.drawing.face_page import View
from loomwright.drawing.face_round import round_body
from loomwright.drawing.faces import SIDE_WORDS, Half
from loomwright.drawing.folded_layout import EDGE_MM, WIDTH_MM
from loomwright.drawing.ink import INK, LINE_MM
from loomwright.drawing.lettering import Box
from loomwright.drawing.svg import document, el, group, number
from loomwright.reference.connectors import Connector, Side

MOST_SCALE = 1.45
PITCH_MM = 9.0


def folded_face(connector: Connector, side: Side = "face", *, half: Half = "socket") -> str:
    """Return the face of a socket or plug from one side; what its pins are stands beside it.

    Parameters
    ----------
    connector : Connector
        What is drawn. Where its layout is not confirmed the numbers stand in a row.
    side : "face" or "rear"
        The mating face, or the side the wires go in. The one mirrors the other.
    half : "socket" or "plug"
        The plug shows at its mating face what the socket shows at its rear.

    Returns
    -------
    str
        SVG, 96 mm wide, as high as needed.
    """
    view = View(connector, side, half == "plug", SIDE_WORDS[half, side])
    drawn, box = _body(view)
    scale = min((WIDTH_MM - 2 * EDGE_MM) / box.width, MOST_SCALE)
    left = (WIDTH_MM - scale * box.width) / 2 - scale * box.left
    top = EDGE_MM - scale * box.top
    moved = f"translate({number(left)} {number(top)}) scale({number(scale)})"
    pins = ", ".join(
        f"{pin.number} {pin.function.replace('_', ' ')}" for pin in view.connector.pins
    )
    return document(
        WIDTH_MM,
        scale * box.height + 2 * EDGE_MM,
        group(drawn, transform=moved),
        title=f"{view.words}: {connector.title}",
        says=f"Contacts {pins}. Key: {connector.row.key_mark}.",
    )


def _body(view: View) -> tuple[Markup, Box]:
    if not view.connector.is_layout_known:
        return _row(view)
    return round_body(view) if view.connector.row.shape == "round" else flat_body(view)


def _row(view: View) -> tuple[Markup, Box]:
    """Draw the numbers in a broken frame: the places are not confirmed."""
    pins = [pin for pin, _, _ in sorted(view.places(), key=lambda place: place[1])]
    box = Box(0.0, 0.0, PITCH_MM * len(pins) + 2.0, 10.0)
    drawn = el(
        "rect",
        x=box.left,
        y=box.top,
        width=box.width,
        height=box.height,
        rx=1.0,
        fill="none",
        stroke=INK,
        stroke_width=LINE_MM,
        stroke_dasharray="1.6 1.2",
    )
    for place, pin in enumerate(pins):
        x = 1.0 + PITCH_MM * (place + 0.5)
        drawn += contact(Form.TERMINAL, pin.number, x, 5.0, (x, 5.0))
    return drawn, box.grown(0.5)
