"""The words along a stretch of conductor: code and size above, length and current below."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from loomwright.drawing.ink import SMALL_MM, SOFT_INK
from loomwright.drawing.lettering import Label, text_width_mm
from loomwright.drawing.run_loads import LoadLine
from loomwright.drawing.run_readings import Readings
from loomwright.drawing.wires import colour_code
from loomwright.quantities import Units, show_current, show_length
from loomwright.rig.model import Rig, Wire

GAP_MM = 1.3
ABOVE_MM = 1.9
BELOW_MM = 3.7


@dataclass(frozen=True, slots=True)
class StretchWords:
    """Code and size of a conductor, its length, and the current in it."""

    code: str
    size: str
    length: str
    current: str

    @property
    def above_width(self) -> float:
        """Width of code and size. [mm]"""
        return _pair_width(self.code, self.size)

    @property
    def below_width(self) -> float:
        """Width of current and length. [mm]"""
        return _pair_width(self.current, self.length)

    @property
    def width(self) -> float:
        """Width of the wider of the two lines. [mm]"""
        return max(self.above_width, self.below_width)

    def svg(self, x: float, y: float) -> Markup:
        """Draw both lines from `x` on, above and below a conductor at height `y`."""
        drawn = _pair(self.code, self.size, x, y - ABOVE_MM)
        return drawn + _pair(self.current, self.length, x, y + BELOW_MM)


def stretch_words(wire: Wire, units: Units, current_a: float | None) -> StretchWords:
    """Return the words of one conductor; a current that is not known is left out."""
    return StretchWords(
        "" if wire.colour is None else colour_code(wire.colour),
        str(wire.size),
        show_length(wire.length_m, units),
        "" if current_a is None else show_current(current_a),
    )


def run_words(rig: Rig, lines: Sequence[LoadLine], readings: Readings) -> StretchWords:
    """Return the words of a run behind the junction, all on the upper line."""
    function = lines[0].mark.carried_by
    size, amps = rig.trailer.run.get(function), readings.amps(f"trailer.run.{function}")
    length = show_length(lines[0].mark.back_m, rig.units)
    plain = length if size is None else f"{size}  {length}"
    return StretchWords("" if amps is None else show_current(amps), plain, "", "")


def _pair(strong: str, plain: str, x: float, y: float) -> Markup:
    drawn = Markup("")
    if strong:
        label = Label(strong, x, y, SMALL_MM, bold=True)
        drawn += label.svg()
        x += label.width + GAP_MM
    return drawn + (Label(plain, x, y, SMALL_MM, ink=SOFT_INK).svg() if plain else "")


def _pair_width(strong: str, plain: str) -> float:
    parts = [text_width_mm(strong, SMALL_MM, bold=True)] if strong else []
    parts += [text_width_mm(plain, SMALL_MM)] if plain else []
    return sum(parts) + GAP_MM * (len(parts) - 1)
