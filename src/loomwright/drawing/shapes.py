"""Plain outlines that several drawings share."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.ink import INK, LINE_MM, PAPER
from loomwright.drawing.lettering import Box
from loomwright.drawing.svg import el, points

Place = tuple[float, float]


def outline(
    box: Box, line_mm: float = LINE_MM, corner_mm: float = 0.0, *, fill: str = PAPER
) -> Markup:
    """Draw a rectangle in ink."""
    return el(
        "rect",
        x=box.left,
        y=box.top,
        width=box.width,
        height=box.height,
        rx=corner_mm or None,
        fill=fill,
        stroke=INK,
        stroke_width=line_mm,
    )


def rule(*path: Place, line_mm: float = LINE_MM, ink: str = INK, dash: str | None = None) -> Markup:
    """Draw a line through the places."""
    return el(
        "path",
        d=points(*path),
        fill="none",
        stroke=ink,
        stroke_width=line_mm,
        stroke_linejoin="round",
        stroke_dasharray=dash,
    )


def ring(
    x: float, y: float, radius: float, line_mm: float = LINE_MM, *, fill: str = "none"
) -> Markup:
    """Draw a circle in ink; `radius` is to the middle of the line."""
    return el("circle", cx=x, cy=y, r=radius, fill=fill, stroke=INK, stroke_width=line_mm)


def arrowhead(x: float, y: float, size: float = 3.0) -> Markup:
    """Draw an arrowhead that points to the left, its tip at the place: towards the battery."""
    path = f"M{x:.2f} {y:.2f} l{size:.2f} {-0.6 * size:.2f} v{1.2 * size:.2f} z"
    return el("path", d=path, fill=INK, stroke=PAPER, stroke_width=LINE_MM)


def striped(box: Box, step_mm: float = 1.1) -> Markup:
    """Draw a rectangle filled with upright strokes: told from solid ink on any printer."""
    strokes = Markup("")
    x = box.left + step_mm
    while x < box.right:
        strokes += rule((x, box.top), (x, box.bottom), line_mm=0.25)
        x += step_mm
    return outline(box) + strokes
