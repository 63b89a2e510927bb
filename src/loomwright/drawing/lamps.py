"""Loads as marks: a lamp glows by its share of light, a magnet, a battery or a box is filled."""

from __future__ import annotations

from math import cos, pi, sin, sqrt
from typing import Literal

from markupsafe import Markup

from loomwright.drawing.ink import HAIRLINE_MM, INK, LINE_MM, PAPER
from loomwright.drawing.lettering import Box
from loomwright.drawing.shapes import outline, ring, rule
from loomwright.drawing.svg import el, group

RADIUS_MM = 1.9
RAYS = 8
RAYS_ABOVE_SHARE = 0.3
GLOWS = {"red": "#d11f2a", "amber": "#f39c12", "white": "#ffe9a8"}


def glow_disc(
    x: float,
    y: float,
    share: float | None,
    colour: str,
    radius: float = RADIUS_MM,
    *,
    is_flashing: bool = False,
) -> Markup:
    """Draw a lamp: the ring is the housing, the filled disc grows with the share of light.

    `share` is light as a share of that at rated voltage; None draws the housing alone. From
    about a third on short rays stand around it, longer with more light. The light of one that
    flashes is named so, for a page to let it flash.
    """
    drawn = ring(x, y, radius, LINE_MM, fill=PAPER)
    if share is None or share <= 0.0:
        return drawn
    fill = GLOWS.get(colour, GLOWS["white"])
    disc = max(min(sqrt(share), 1.15) * (radius - 0.25), 0.35)
    light = el("circle", cx=x, cy=y, r=disc, fill=fill, stroke=INK, stroke_width=HAIRLINE_MM)
    light += _rays(x, y, radius, share) if share >= RAYS_ABOVE_SHARE else Markup("")
    return drawn + (group(light, class_="flashing") if is_flashing else light)


def glow_colour(function: str, usual: str = "red") -> str:
    """Return the colour a light shows: a lone turn signal amber, reversing white, else `usual`.

    Source: UN R48, 6.4 and 6.5 (from memory); some countries allow a red turn signal as well.
    """
    if function in ("left_turn", "right_turn"):
        return "amber"
    return "white" if function == "reverse" else usual


def load_mark(
    form: Literal["brake", "battery", "appliance"],
    x: float,
    y: float,
    *,
    is_on: bool,
    half: float = RADIUS_MM,
) -> Markup:
    """Draw a brake magnet, a battery or an appliance, solid when it is on."""
    fill = INK if is_on else PAPER
    if form == "brake":
        core = ring(x, y, 0.4 * half, LINE_MM, fill=PAPER)
        return ring(x, y, half, LINE_MM, fill=fill) + core
    body = Box(x - half, y - half, x + half, y + half)
    drawn = outline(body, LINE_MM, 0.4, fill=fill)
    if form == "battery":
        posts = [rule((x + d, y - half), (x + d, y - half - 0.7), line_mm=0.6) for d in (-0.9, 0.9)]
        drawn += Markup("").join(posts)
    return drawn


def _rays(x: float, y: float, radius: float, share: float) -> Markup:
    start, end = radius + 0.35, radius + 0.35 + 0.75 * min(share, 1.4)
    return Markup("").join(
        rule(
            (x + start * cos(angle), y + start * sin(angle)),
            (x + end * cos(angle), y + end * sin(angle)),
            line_mm=0.25,
        )
        for angle in (pi / RAYS + 2 * pi * n / RAYS for n in range(RAYS))
    )
