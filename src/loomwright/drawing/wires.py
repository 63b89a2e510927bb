"""Conductors as they look in the hand: base colour, tracer, and an ink edge on any ground."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from markupsafe import Markup

from loomwright.colours import Colour
from loomwright.drawing.ink import EDGE_MM, HAIRLINE_MM, INK, PAPER, SMALL_MM
from loomwright.drawing.lettering import Label, text_width_mm
from loomwright.drawing.svg import document, el, group, number, points

Place = tuple[float, float]
Strand = tuple[tuple[Place, ...], float]
"""A path and the thickness drawn along it. [mm]"""

Flow = Literal["live", "live home"] | None

NOT_KNOWN = "?"
CODE_GAP_MM = 1.2
TRACER_SHARE = 0.36


def conductor(
    path: tuple[Place, ...], colour: Colour | None, thickness_mm: float, flow: Flow = None
) -> Markup:
    """Draw a conductor along `path`; one of unknown colour is hollow with a broken core line.

    `flow` names current that runs along the path, or against it: a page may let it be seen.
    """
    line = points(*path)
    edge = _stroke(line, INK, thickness_mm + 2 * EDGE_MM)
    if colour is None:
        core = _stroke(line, INK, HAIRLINE_MM, dash=(1.2, 1.2))
        return group(edge, _stroke(line, PAPER, thickness_mm), core, class_=flow)
    base = _stroke(line, colour.base_rgb, thickness_mm)
    return group(edge, base, *_tracer(line, colour, thickness_mm), class_=flow)


def joined_conductors(strands: Sequence[Strand]) -> Markup:
    """Draw conductors of unknown colour that are joined: one outline, no edge across a tap."""
    lines = [(points(*path), thickness) for path, thickness in strands]
    return group(
        *(_stroke(line, INK, thickness + 2 * EDGE_MM) for line, thickness in lines),
        *(_stroke(line, PAPER, thickness) for line, thickness in lines),
        *(_stroke(line, INK, HAIRLINE_MM, dash=(1.2, 1.2)) for line, _ in lines),
    )


def swatch(
    colour: Colour | None, left: float, top: float, width_mm: float, height_mm: float
) -> Markup:
    """Draw a short piece of the conductor as a closed band. [mm]"""
    middle = top + height_mm / 2
    return group(
        conductor(((left, middle), (left + width_mm, middle)), colour, height_mm),
        el(
            "rect",
            x=left,
            y=top,
            width=width_mm,
            height=height_mm,
            fill="none",
            stroke=INK,
            stroke_width=2 * EDGE_MM,
        ),
    )


def colour_code(colour: Colour | None) -> str:
    """Return the code written beside a conductor."""
    return NOT_KNOWN if colour is None else colour.code


def wire_swatch(colour: Colour | None, width_mm: float = 14.0, height_mm: float = 3.2) -> str:
    """Return a drawing of one conductor with its code beside it.

    Parameters
    ----------
    colour : Colour or None
        Insulation; None where it is not known.
    width_mm, height_mm : float
        Size of the band without the code. [mm]

    Returns
    -------
    str
        SVG, as wide as band and code need.
    """
    code = colour_code(colour)
    margin = 2 * EDGE_MM
    size = max(SMALL_MM, 0.8 * height_mm)
    text_left = margin + width_mm + CODE_GAP_MM
    height = max(height_mm, size) + 2 * margin
    label = Label(code, text_left, height / 2 + 0.36 * size, size, bold=True)
    return document(
        text_left + text_width_mm(code, size, bold=True) + margin,
        height,
        swatch(colour, margin, (height - height_mm) / 2, width_mm, height_mm),
        label.svg(),
        title=code,
        says="colour not known" if colour is None else f"Conductor, {colour.words}",
    )


def _tracer(line: str, colour: Colour, thickness_mm: float) -> tuple[Markup, ...]:
    if colour.stripe is None or colour.stripe_rgb is None:
        return ()
    ink = colour.stripe_rgb
    if colour.pattern == "dots":
        spacing = max(2.2 * thickness_mm, 1.6)
        return (_stroke(line, ink, 0.62 * thickness_mm, dash=(0.001, spacing), cap="round"),)
    if colour.pattern == "hash":
        bar = max(0.35 * thickness_mm, 0.4)
        return (_stroke(line, ink, thickness_mm, dash=(bar, 3 * bar)),)
    return (_stroke(line, ink, TRACER_SHARE * thickness_mm, dash=(3.0, 1.0)),)


def _stroke(
    line: str,
    ink: str,
    width_mm: float,
    *,
    dash: tuple[float, float] | None = None,
    cap: str | None = None,
) -> Markup:
    return el(
        "path",
        d=line,
        fill="none",
        stroke=ink,
        stroke_width=width_mm,
        stroke_linejoin="round",
        stroke_linecap=cap,
        stroke_dasharray=None if dash is None else " ".join(number(part) for part in dash),
    )
