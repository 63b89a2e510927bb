"""Expected readings as bands: lowest, nominal, highest, and what the meter showed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from loomwright.drawing.ink import BODY_MM, INK, LINE_MM, SMALL_MM, SOFT_INK, STRONG_MM
from loomwright.drawing.lettering import Box, Label, shortened, text_width_mm
from loomwright.drawing.shapes import outline, rule
from loomwright.drawing.svg import document, el, points
from loomwright.electrics.answers import Band
from loomwright.quantities import show_voltage

WIDTH_MM = 140.0
MARGIN_MM = 2.0
NAME_MM = 44.0
PITCH_MM = 7.4
BAND_MM = 2.8
NOMINAL_MM = 18.0


@dataclass(frozen=True, slots=True)
class BandLine:
    """One reading to expect; `measured` is what the meter showed, if it has been read."""

    name: str
    band: Band
    measured: float | None = None


def band_bars(
    lines: Sequence[BandLine], show: Callable[[float], str] = show_voltage, heading: str = ""
) -> str:
    """Return one bar for each reading, all on one scale.

    Parameters
    ----------
    lines : sequence of BandLine
        In order from the top.
    show : callable
        Writes a value with its unit, such as `show_voltage`.
    heading : str
        Words above, if any.

    Returns
    -------
    str
        SVG, 140 mm wide.
    """
    top = 9.0 if heading else 2.0
    scale = _Scale.over(lines, show)
    drawn = Markup("")
    if heading:
        words = shortened(heading, WIDTH_MM - 2 * MARGIN_MM, BODY_MM, bold=True)
        drawn = Label(words, MARGIN_MM, 5.0, BODY_MM, bold=True).svg()
    for n, line in enumerate(lines):
        drawn += _line(line, scale, show, top + PITCH_MM * (n + 0.5))
    return document(
        WIDTH_MM,
        top + PITCH_MM * len(lines) + 1.0,
        drawn,
        title=heading or "Expected readings",
        says="; ".join(_says(line, show) for line in lines),
    )


@dataclass(frozen=True, slots=True)
class _Scale:
    """Where a value stands across the page."""

    low: float
    high: float
    left: float
    right: float

    @classmethod
    def over(cls, lines: Sequence[BandLine], show: Callable[[float], str]) -> _Scale:
        """Take in every band and every measured value, with room for the figures beside them."""
        values = [
            value
            for line in lines
            for value in (line.band.low, line.band.high, line.measured)
            if value is not None
        ]
        widest = max((text_width_mm(show(value), SMALL_MM) for value in values), default=0.0)
        left = MARGIN_MM + NAME_MM + widest + 2.4
        right = WIDTH_MM - MARGIN_MM - NOMINAL_MM - widest - 2.4
        return cls(min(values, default=0.0), max(values, default=1.0), left, right)

    def at(self, value: float) -> float:
        """Return the place of a value; a scale of one value has it in the middle."""
        span = self.high - self.low
        share = 0.5 if span <= 0 else (value - self.low) / span
        return self.left + share * (self.right - self.left)


def _line(line: BandLine, scale: _Scale, show: Callable[[float], str], y: float) -> Markup:
    band = line.band
    low, nominal, high = scale.at(band.low), scale.at(band.nominal), scale.at(band.high)
    baseline = y + 0.36 * SMALL_MM
    name = shortened(line.name, NAME_MM - 1.0, SMALL_MM)
    drawn = Label(name, MARGIN_MM, baseline, SMALL_MM).svg()
    drawn += outline(Box(low, y - BAND_MM / 2, high, y + BAND_MM / 2), LINE_MM)
    drawn += rule((nominal, y - BAND_MM / 2), (nominal, y + BAND_MM / 2), line_mm=2 * STRONG_MM)
    if show(band.high) != show(band.low):
        left = Label(show(band.low), low - 1.2, baseline, SMALL_MM, anchor="end", ink=SOFT_INK)
        right = Label(show(band.high), high + 1.2, baseline, SMALL_MM, ink=SOFT_INK)
        drawn += left.svg() + right.svg()
    figure = show(band.nominal if line.measured is None else line.measured)
    drawn += Label(
        figure, WIDTH_MM - MARGIN_MM, y + 0.36 * BODY_MM, BODY_MM, bold=True, anchor="end"
    ).svg()
    return drawn + (Markup("") if line.measured is None else _pointer(scale.at(line.measured), y))


def _pointer(x: float, y: float) -> Markup:
    """Draw the meter's reading as a wedge on the band's upper edge."""
    top, tip = y - BAND_MM / 2 - 2.4, y - BAND_MM / 2 - 0.1
    wedge = points((x - 1.3, top), (x + 1.3, top), (x, tip))
    return el("path", d=f"{wedge} Z", fill=INK)


def _says(line: BandLine, show: Callable[[float], str]) -> str:
    band = line.band
    said = f"{line.name}: {show(band.low)} to {show(band.high)}, nominal {show(band.nominal)}"
    return said if line.measured is None else f"{said}, measured {show(line.measured)}"
