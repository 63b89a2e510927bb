"""A face whose contacts nobody has confirmed: the numbers in a row, and a plain list."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from loomwright.drawing.contacts import Form, contact
from loomwright.drawing.face_page import HEADING_MM, MARGIN_MM, NOT_CONFIRMED, WIDTH_MM, View
from loomwright.drawing.ink import BODY_MM, INK, LINE_MM
from loomwright.drawing.lettering import Label
from loomwright.drawing.pin_labels import PinLabel, beside
from loomwright.drawing.svg import el

COLUMNS = 3
COLUMN_MM = (WIDTH_MM - 2 * MARGIN_MM) / COLUMNS
ROW_PITCH_MM = 11.6
PITCH_MM = 8.6


def listed_face(view: View, labels: Mapping[str, PinLabel]) -> tuple[Markup, float]:
    """Draw the row and the list; also return their height below the heading. [mm]"""
    places = sorted(view.places(), key=lambda place: place[1])
    y = HEADING_MM + 6.0
    drawn = el(
        "rect",
        x=MARGIN_MM + 0.4,
        y=y - 5.0,
        width=PITCH_MM * len(places) + 2.0,
        height=10.0,
        rx=1.0,
        fill="none",
        stroke=INK,
        stroke_width=LINE_MM,
        stroke_dasharray="1.6 1.2",
    )
    for index, (pin, _, _) in enumerate(places):
        x = MARGIN_MM + 1.4 + PITCH_MM * (index + 0.5)
        drawn += contact(Form.TERMINAL, pin.number, x, y, (x, y))
    drawn += Label(NOT_CONFIRMED, MARGIN_MM, y + 10.2, BODY_MM, bold=True).svg()
    return drawn + _list(labels, y + 17.0), _depth(len(labels), y + 17.0)


def _list(labels: Mapping[str, PinLabel], top: float) -> Markup:
    rows = -(-len(labels) // COLUMNS)
    return Markup("").join(
        beside(
            label,
            MARGIN_MM + COLUMN_MM * (index // rows),
            top + ROW_PITCH_MM * (index % rows),
            COLUMN_MM - 2.0,
            "right",
        )
        for index, label in enumerate(labels.values())
    )


def _depth(count: int, top: float) -> float:
    return top + ROW_PITCH_MM * -(-count // COLUMNS) - HEADING_MM - 3.6
