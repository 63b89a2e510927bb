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
MOST_PINS = 99
MOST_IN_A_ROW = 5
"""How many unconfirmed contacts stand side by side in a list."""


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
    return document(
        WIDTH_MM,
        scale * box.height + 2 * EDGE_MM,
        group(drawn, transform=moved),
        title=f"{view.words}: {connector.title}",
        says=_in_words(connector),
    )


def bare_face(connector: Connector) -> str:
    """Return the face of a socket as one looks into it, cut close: for a row of a list.

    Parameters
    ----------
    connector : Connector
        What is drawn. Where its layout is not confirmed the numbers stand in rows of five.

    Returns
    -------
    str
        SVG, in the size of the drawing's own millimetres.
    """
    view = View(connector, "face", is_plug=False, words=SIDE_WORDS["socket", "face"])
    drawn, box = _body(view, MOST_IN_A_ROW)
    moved = f"translate({number(EDGE_MM - box.left)} {number(EDGE_MM - box.top)})"
    return document(
        box.width + 2 * EDGE_MM,
        box.height + 2 * EDGE_MM,
        group(drawn, transform=moved),
        title=f"{view.words}: {connector.title}",
        says=_in_words(connector),
    )


def _in_words(connector: Connector) -> str:
    pins = ", ".join(f"{pin.number} {pin.function.replace('_', ' ')}" for pin in connector.pins)
    return f"Contacts {pins}. Key: {connector.row.key_mark}."


def _body(view: View, most: int = MOST_PINS) -> tuple[Markup, Box]:
    if not view.connector.is_layout_known:
        return _rows(view, most)
    return round_body(view) if view.connector.row.shape == "round" else flat_body(view)


def _rows(view: View, most: int) -> tuple[Markup, Box]:
    """Draw the numbers in a broken frame, so many a row: the places are not confirmed."""
    pins = [pin for pin, _, _ in sorted(view.places(), key=lambda place: place[1])]
    count = min(len(pins), most)
    box = Box(0.0, 0.0, PITCH_MM * count + 2.0, PITCH_MM * -(-len(pins) // count) + 1.0)
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
        x = 1.0 + PITCH_MM * (place % count + 0.5)
        y = 0.5 + PITCH_MM * (place // count + 0.5)
        drawn += contact(Form.TERMINAL, pin.number, x, y, (x, y))
    return drawn, box.grown(0.5)
