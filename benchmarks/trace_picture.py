"""The picture of the self test of trace: belief against share right, and measurements taken."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup
from tools.draw_docs import on_paper, with_letters

from loomwright.drawing.ink import BODY_MM, HAIRLINE_MM, INK, LINE_MM, SOFT_INK, STRONG_MM
from loomwright.drawing.shapes import ring, rule
from loomwright.drawing.svg import document, el

SIZE_MM = 48.0
LEFT_MM, TOP_MM = 16.0, 12.0
BARS_MM = 92.0
LONGEST = 14.0


def picture(
    calibration: Sequence[tuple[float, float, int]], ways: Sequence[tuple[str, float, float]]
) -> str:
    """Return the picture as SVG text with its letters.

    Parameters
    ----------
    calibration : sequence of (float, float, int)
        Mean belief, share right, how many faults.
    ways : sequence of (str, float, float)
        A way of measuring, mean number of measurements, and that within which nine in ten are.
    """
    body = [*_axes(), *_dots(calibration), *_bars(ways)]
    svg = document(
        156.0,
        74.0,
        *body,
        title="Self test of trace",
        says="Left: share of faults that were right, over the probability given to them; the "
        "dots lie near the diagonal. Right: measurements until a break is found; asked by trace "
        "the fewest.",
    )
    return with_letters(on_paper(svg))


def _axes() -> list[Markup]:
    bottom, right = TOP_MM + SIZE_MM, LEFT_MM + SIZE_MM
    marks = [
        rule((LEFT_MM, TOP_MM), (LEFT_MM, bottom), (right, bottom), line_mm=LINE_MM),
        rule((LEFT_MM, bottom), (right, TOP_MM), line_mm=HAIRLINE_MM, ink=SOFT_INK),
        _text(LEFT_MM, 6.0, "share right"),
        _text(LEFT_MM + SIZE_MM / 2, bottom + 9.0, "probability given", "middle"),
    ]
    for share in (0.0, 0.5, 1.0):
        x, y = _at(share, share)
        marks.append(_text(x, bottom + 4.5, f"{share:.0%}", "middle"))
        marks.append(_text(LEFT_MM - 1.5, y + 1.0, f"{share:.0%}", "end"))
    return marks


def _at(said: float, right: float) -> tuple[float, float]:
    return LEFT_MM + SIZE_MM * said, TOP_MM + SIZE_MM * (1.0 - right)


def _dots(calibration: Sequence[tuple[float, float, int]]) -> list[Markup]:
    """A dot for each tenth of belief, its area as the number of faults."""
    most = max(count for *_, count in calibration)
    return [
        ring(*_at(said, right), 0.9 + 2.1 * (count / most) ** 0.5, STRONG_MM)
        for said, right, count in calibration
    ]


def _bars(ways: Sequence[tuple[str, float, float]]) -> list[Markup]:
    scale = (150.0 - BARS_MM) / LONGEST
    marks = [_text(BARS_MM, 6.0, "measurements until a break is found")]
    for row, (says, mean, most) in enumerate(ways):
        y = TOP_MM + 6.0 + 17.0 * row
        marks.append(_text(BARS_MM, y - 2.0, says))
        bar = {"x": BARS_MM, "y": y, "height": 5.0, "fill": INK}
        marks.append(el("rect", width=mean * scale, **bar))
        end = min(most, LONGEST) * scale
        marks.append(rule((BARS_MM, y + 2.5), (BARS_MM + end, y + 2.5), line_mm=LINE_MM))
        marks.append(_text(BARS_MM, y + 9.0, f"mean {mean:.1f}, nine in ten within {most:.0f}"))
    return marks


def _text(x: float, y: float, says: str, anchor: str = "start") -> Markup:
    return el("text", says, x=x, y=y, fill=INK, font_size=BODY_MM, text_anchor=anchor)
