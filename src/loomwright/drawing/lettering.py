"""Text that knows its own size, so that no label clips or overlaps."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from typing import Literal

from markupsafe import Markup

from loomwright.drawing.ink import BODY_MM, INK
from loomwright.drawing.svg import el

UNITS_PER_EM = 2048
ASCENT = 0.76
DESCENT = 0.22
ELLIPSIS = "…"
MOST_KEPT = 4096
"""Texts whose width is kept: a drawing asks for that of each of its labels several times."""

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle. [mm]"""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """From left to right. [mm]"""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From top to bottom. [mm]"""
        return self.bottom - self.top

    def grown(self, by: float) -> Box:
        """The rectangle with every side moved out by `by`, or in if it is negative. [mm]"""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def overlaps(self, other: Box, slack: float = 0.0) -> bool:
        """Whether the two share more than `slack` in both directions."""
        return (
            min(self.right, other.right) - max(self.left, other.left) > slack
            and min(self.bottom, other.bottom) - max(self.top, other.top) > slack
        )


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text: baseline at (x, y), height of the type `size`. [mm]"""

    text: str
    x: float
    y: float
    size: float = BODY_MM
    bold: bool = False
    anchor: Anchor = "start"
    ink: str = INK

    @property
    def width(self) -> float:
        """Advance width of the text. [mm]"""
        return text_width_mm(self.text, self.size, bold=self.bold)

    @property
    def box(self) -> Box:
        """The rectangle the text fills."""
        width = self.width
        left = self.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * width
        return Box(left, self.y - ASCENT * self.size, left + width, self.y + DESCENT * self.size)

    def svg(self) -> Markup:
        """Return the text element."""
        return el(
            "text",
            self.text,
            x=self.x,
            y=self.y,
            font_size=self.size,
            font_weight=700 if self.bold else 400,
            text_anchor=None if self.anchor == "start" else self.anchor,
            fill=self.ink,
        )


def text_width_mm(text: str, size_mm: float, *, bold: bool = False) -> float:
    """Return the advance width of a text in Inter; a letter not in the table counts one em."""
    return _units(text, bold) * size_mm / UNITS_PER_EM


def shortened(text: str, width_mm: float, size_mm: float, *, bold: bool = False) -> str:
    """Return the text, cut with an ellipsis where it would be wider than `width_mm`."""
    if text_width_mm(text, size_mm, bold=bold) <= width_mm:
        return text
    kept = text
    while kept and text_width_mm(kept.rstrip() + ELLIPSIS, size_mm, bold=bold) > width_mm:
        kept = kept[:-1]
    return kept.rstrip() + ELLIPSIS


def wrapped(
    text: str, width_mm: float, size_mm: float, *, bold: bool = False, most: int = 3
) -> tuple[str, ...]:
    """Break the text at its spaces into at most `most` lines; what does not fit is shortened.

    A no-break space keeps a number with its unit.
    """
    lines: list[str] = []
    words = [word for word in text.split(" ") if word]
    while words and len(lines) < most - 1:
        line = words.pop(0)
        while words and text_width_mm(f"{line} {words[0]}", size_mm, bold=bold) <= width_mm:
            line = f"{line} {words.pop(0)}"
        lines.append(line)
    lines += [" ".join(words)] if words else []
    return tuple(shortened(line, width_mm, size_mm, bold=bold) for line in lines)


@lru_cache(maxsize=MOST_KEPT)
def _units(text: str, bold: bool) -> int:
    widths = _advance_widths()
    column = 1 if bold else 0
    return sum(widths[c][column] if c in widths else UNITS_PER_EM for c in text)


@cache
def _advance_widths() -> dict[str, tuple[int, int]]:
    table = files("loomwright.drawing") / "fonts" / "advance_widths.csv"
    rows = csv.DictReader(io.StringIO(table.read_text(encoding="ascii")))
    return {
        chr(int(row["codepoint"], 16)): (int(row["regular_em_units"]), int(row["bold_em_units"]))
        for row in rows
    }
