"""One contact of a connector: a slot, a sleeve or a pin on the face, a terminal at the back."""

from __future__ import annotations

from enum import StrEnum
from math import atan2, cos, degrees, hypot, sin

from markupsafe import Markup

from loomwright.drawing.ink import INK, LINE_MM, PAPER
from loomwright.drawing.lettering import Label, text_width_mm
from loomwright.drawing.svg import el
from loomwright.reference.connectors import Connector, Pin

RADIUS_MM = 3.1
SLOT_LENGTH_MM = 8.2
SLOT_WIDTH_MM = 2.6
NUMBER_MM = 3.2


class Form(StrEnum):
    """What the eye meets at a contact."""

    SLOT = "slot"
    SLEEVE = "sleeve"
    PIN = "pin"
    TERMINAL = "terminal"
    CONTACT = "contact"


# Contacts that are pins on the vehicle's side, by family; see `gender` in the connector table.
PINS_ON_VEHICLE = {
    "4-flat": frozenset({"1"}),
    "5-flat": frozenset({"1"}),
    "12n-body": frozenset({"2", "5", "7"}),
    "12s-body": frozenset({"2", "5"}),
    "au-flat": frozenset(str(number) for number in range(1, 13)),
}
GENDER_NOT_RECORDED = ("au-7-round-large", "au-7-round-small")
BLADES = "7-blade"


def contact_form(connector: Connector, pin: Pin, *, is_plug: bool, is_rear: bool) -> Form:
    """Return what a contact looks like from one side of the socket or of the plug."""
    if is_rear:
        return Form.TERMINAL
    if connector.key in GENDER_NOT_RECORDED:
        return Form.CONTACT
    if connector.row.family == BLADES and (pin.x, pin.y) != (0.0, 0.0):
        return Form.SLOT
    is_pin = pin.number in PINS_ON_VEHICLE.get(connector.row.family, frozenset())
    return Form.PIN if is_pin != is_plug else Form.SLEEVE


def contact(form: Form, number: str, x: float, y: float, centre: tuple[float, float]) -> Markup:
    """Draw a contact with its moulded number; a slot lies across the line to the centre."""
    if form is Form.SLOT:
        return _slot(number, x, y, centre)
    size = min(NUMBER_MM, NUMBER_MM * 4.6 / text_width_mm(number, NUMBER_MM, bold=True))
    ink = PAPER if form is Form.PIN else INK
    label = Label(number, x, y + 0.36 * size, size, bold=True, anchor="middle", ink=ink)
    return _body(form, x, y) + label.svg()


def edge_mm(form: Form) -> float:
    """Distance from the middle of a contact to where a leader may start. [mm]"""
    return SLOT_WIDTH_MM / 2 if form is Form.SLOT else RADIUS_MM


def _body(form: Form, x: float, y: float) -> Markup:
    if form is Form.TERMINAL:
        side = 2 * RADIUS_MM - 0.4
        return el(
            "rect",
            x=x - side / 2,
            y=y - side / 2,
            width=side,
            height=side,
            rx=1.0,
            fill=PAPER,
            stroke=INK,
            stroke_width=LINE_MM,
        )
    width = 0.75 if form is Form.SLEEVE else LINE_MM
    fill = INK if form is Form.PIN else PAPER
    return el(
        "circle", cx=x, cy=y, r=RADIUS_MM - width / 2, fill=fill, stroke=INK, stroke_width=width
    )


def _slot(number: str, x: float, y: float, centre: tuple[float, float]) -> Markup:
    angle = atan2(y - centre[1], x - centre[0])
    inward = hypot(x - centre[0], y - centre[1]) - SLOT_WIDTH_MM / 2 - 2.5
    slot = el(
        "rect",
        x=x - SLOT_LENGTH_MM / 2,
        y=y - SLOT_WIDTH_MM / 2,
        width=SLOT_LENGTH_MM,
        height=SLOT_WIDTH_MM,
        rx=0.5,
        fill=INK,
        transform=f"rotate({degrees(angle) + 90:.2f} {x:.3f} {y:.3f})",
    )
    label = Label(
        number,
        centre[0] + inward * cos(angle),
        centre[1] + inward * sin(angle) + 0.36 * NUMBER_MM,
        NUMBER_MM,
        bold=True,
        anchor="middle",
    )
    return slot + label.svg()
