"""What every drawing of a face shares: the side it is seen from, its heading and its foot."""

from __future__ import annotations

import re
from dataclasses import dataclass

from markupsafe import Markup

from loomwright.drawing.contacts import Form, contact_form
from loomwright.drawing.ink import LARGE_MM, SMALL_MM, SOFT_INK
from loomwright.drawing.lettering import Label, wrapped
from loomwright.drawing.svg import document
from loomwright.reference.connectors import Connector, Pin, Side

WIDTH_MM = 140.0
MARGIN_MM = 2.0
HEADING_MM = 13.0
CLOCK = re.compile(r"\b(\d{1,2}) o'clock")
LEGEND = {
    Form.SLOT: "bar: slot for a blade",
    Form.SLEEVE: "ring: sleeve",
    Form.PIN: "black: pin",
    Form.TERMINAL: "square: terminal",
    Form.CONTACT: "thin ring: contact, whether pin or sleeve is not recorded",
}
NOT_CONFIRMED = "Positions not confirmed: go by the numbers moulded in the part"


@dataclass(frozen=True, slots=True)
class View:
    """A connector seen from one side of one of its halves."""

    connector: Connector
    side: Side
    is_plug: bool
    words: str

    @property
    def is_rear(self) -> bool:
        """Whether the wires come towards the eye."""
        return self.side == "rear"

    def places(self) -> tuple[tuple[Pin, float, float], ...]:
        """Places of the pins as seen: x to the right, y up, the shell from -1 to 1."""
        mirrored = self.is_rear != self.is_plug
        return self.connector.face("rear" if mirrored else "face")

    def form(self, pin: Pin) -> Form:
        """Return what the contact looks like in this view."""
        return contact_form(self.connector, pin, is_plug=self.is_plug, is_rear=self.is_rear)

    @property
    def key_hour(self) -> int | None:
        """Clock hour of notch or keyway, None where it is not confirmed."""
        found = CLOCK.search(self.connector.row.key_mark)
        return None if found is None else int(found[1])


def face_document(view: View, body: Markup, body_height_mm: float) -> str:
    """Return heading, body and foot as one drawing; the body starts below the heading."""
    heading = Label(view.words, MARGIN_MM, 5.2, LARGE_MM, bold=True).svg()
    title = f"{view.connector.title} ({view.connector.standard})"
    for line in wrapped(title, WIDTH_MM - 2 * MARGIN_MM, SMALL_MM, most=1):
        heading += Label(line, MARGIN_MM, 9.4, SMALL_MM, ink=SOFT_INK).svg()
    foot, y = Markup(""), HEADING_MM + body_height_mm
    for line in wrapped(_foot_words(view), WIDTH_MM - 2 * MARGIN_MM, SMALL_MM):
        y += 3.4
        foot += Label(line, MARGIN_MM, y, SMALL_MM, ink=SOFT_INK).svg()
    says = f"{view.words}: " + ", ".join(
        f"{pin.number} {pin.function.replace('_', ' ')}" for pin in view.connector.pins
    )
    return document(WIDTH_MM, y + 1.6, heading, body, foot, title=view.connector.title, says=says)


def _foot_words(view: View) -> str:
    if not view.connector.is_layout_known:
        return f"Key: {view.connector.row.key_mark}."
    forms = dict.fromkeys(view.form(pin) for pin in view.connector.pins)
    parts = ["bar: blade" if view.is_plug and form is Form.SLOT else LEGEND[form] for form in forms]
    legend = "; ".join(parts)
    return f"{legend[0].upper()}{legend[1:]}. Key: {view.connector.row.key_mark}."
