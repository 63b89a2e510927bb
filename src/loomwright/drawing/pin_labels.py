"""What stands beside a pin: number, function, swatch, code and size, in a block that fits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from loomwright.colours import Colour
from loomwright.drawing.function_words import function_words
from loomwright.drawing.ink import BODY_MM, LARGE_MM, SMALL_MM, SOFT_INK
from loomwright.drawing.lettering import Anchor, Label, shortened, text_width_mm, wrapped
from loomwright.drawing.wires import colour_code, swatch
from loomwright.reference.connectors import Connector, Pin
from loomwright.rig.model import PinWire

GAP_MM = 1.4
SWATCH_WIDTH_MM = 10.0
SWATCH_HEIGHT_MM = 2.6
LINE_PITCH_MM = 4.2
NO_WIRE = "no wire"


@dataclass(frozen=True, slots=True)
class PinLabel:
    """The words of one pin, and the wire that ends there."""

    number: str
    label: str
    words: str
    colour: Colour | None
    size: str
    has_wire: bool

    @property
    def letters(self) -> str:
        """The moulded letters, where there are some beside the number."""
        return "" if self.label == self.number else self.label

    @property
    def code(self) -> str:
        """Colour code, or that there is no wire."""
        return colour_code(self.colour) if self.has_wire else NO_WIRE


def pin_labels(connector: Connector, wires: Sequence[PinWire]) -> dict[str, PinLabel]:
    """Return the label of each pin; given wires replace the usual core colours."""
    by_pin = {wire.pin: wire for wire in wires}
    return {pin.number: _label(pin, by_pin.get(pin.number), bool(wires)) for pin in connector.pins}


def beside(
    label: PinLabel, x: float, y: float, width: float, side: Literal["left", "right"]
) -> Markup:
    """Draw the block with its first line centred on y, reading away from x to `side`."""
    sign = 1.0 if side == "right" else -1.0
    anchor: Anchor = "start" if side == "right" else "end"
    baseline = y + 0.36 * LARGE_MM
    number = Label(label.number, x, baseline, LARGE_MM, bold=True, anchor=anchor)
    used = number.width + GAP_MM
    drawn = number.svg()
    if label.letters:
        letters = Label(
            label.letters, x + sign * used, baseline, SMALL_MM, anchor=anchor, ink=SOFT_INK
        )
        used += letters.width + GAP_MM
        drawn += letters.svg()
    words = shortened(label.words, width - used, BODY_MM, bold=True)
    drawn += Label(words, x + sign * used, baseline, BODY_MM, bold=True, anchor=anchor).svg()
    return drawn + _wire_line(label, x, y + LINE_PITCH_MM + 0.4, sign, anchor)


def under(label: PinLabel, x: float, top: float, width: float) -> tuple[Markup, float]:
    """Draw the block centred on x below `top`; also return its height. [mm]"""
    y = top + 3.2
    drawn = Label(label.number, x, y, LARGE_MM, bold=True, anchor="middle").svg()
    for line in wrapped(label.words, width, SMALL_MM, bold=True):
        y += 3.2
        drawn += Label(line, x, y, SMALL_MM, bold=True, anchor="middle").svg()
    y += 1.4
    if label.has_wire and label.colour is not None:
        drawn += swatch(label.colour, x - SWATCH_WIDTH_MM / 2, y, SWATCH_WIDTH_MM, SWATCH_HEIGHT_MM)
    y += SWATCH_HEIGHT_MM + 2.9
    drawn += Label(label.code, x, y, SMALL_MM, bold=True, anchor="middle").svg()
    if label.size:
        y += 3.2
        drawn += Label(label.size, x, y, SMALL_MM, anchor="middle", ink=SOFT_INK).svg()
    return drawn, y + 0.6 - top


def under_height_mm(label: PinLabel, width: float) -> float:
    """Height of the block that `under` draws. [mm]"""
    return under(label, 0.0, 0.0, width)[1]


def _wire_line(label: PinLabel, x: float, middle: float, sign: float, anchor: Anchor) -> Markup:
    baseline = middle + 0.36 * SMALL_MM
    drawn = Markup("")
    at = x
    if label.has_wire and label.colour is not None:
        left = at if sign > 0 else at - SWATCH_WIDTH_MM
        drawn += swatch(
            label.colour, left, middle - SWATCH_HEIGHT_MM / 2, SWATCH_WIDTH_MM, SWATCH_HEIGHT_MM
        )
        at += sign * (SWATCH_WIDTH_MM + GAP_MM)
    drawn += Label(label.code, at, baseline, SMALL_MM, bold=True, anchor=anchor).svg()
    at += sign * (text_width_mm(label.code, SMALL_MM, bold=True) + GAP_MM)
    if label.size:
        drawn += Label(label.size, at, baseline, SMALL_MM, anchor=anchor, ink=SOFT_INK).svg()
    return drawn


def _label(pin: Pin, wire: PinWire | None, is_wired: bool) -> PinLabel:
    if wire is not None:
        words = function_words(wire.function)
        return PinLabel(pin.number, pin.label, words, wire.wire.colour, str(wire.wire.size), True)
    words = function_words(pin.function)
    if is_wired:
        return PinLabel(pin.number, pin.label, words, None, "", False)
    if pin.colour is None:
        return PinLabel(pin.number, pin.label, words, None, "", False)
    size = "" if pin.size is None else pin.size.replace("mm2", "mm²").replace(" ", "\u00a0")
    return PinLabel(pin.number, pin.label, words, pin.colour, size, True)
