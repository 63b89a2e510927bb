"""The two conductors of a folded circuit, down the page on the left and home on the right."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from loomwright.colours import Colour
from loomwright.drawing.folded_layout import HOME_X_MM, OUT_X_MM, Fold, PlacedFloor
from loomwright.drawing.folded_plan import Half
from loomwright.drawing.ink import SOFT_INK
from loomwright.drawing.run_strands import flow_of
from loomwright.drawing.shapes import rule
from loomwright.drawing.svg import el
from loomwright.drawing.wires import conductor

PLAIN_MM = 3.0
LIVE_MM = 4.2
DEAD_MM = 1.4
HATCH_STEP_MM = 2.4
HATCH_MM = 2.6
BODY_LINE_MM = 0.9


@dataclass(frozen=True, slots=True)
class Strand:
    """How a piece of conductor looks."""

    colour: Colour | None
    thickness: float


@dataclass(frozen=True, slots=True)
class _Piece:
    """A strand over a part of the page; None is where there is no conductor."""

    top: float
    bottom: float
    strand: Strand | None


def thickness_mm(is_live: bool | None) -> float:
    """Return how thick a conductor of the folded run is drawn."""
    if is_live is None:
        return PLAIN_MM
    return LIVE_MM if is_live else DEAD_MM


def rails(fold: Fold) -> Markup:
    """Draw both conductors, and chassis and frame where they carry the return."""
    out = [_half(placed, is_home=False) for placed in fold.floors]
    home = [_half(placed, is_home=True) for placed in fold.floors]
    drawn = _bodies(fold)
    for halves, x in ((out, OUT_X_MM), (home, HOME_X_MM)):
        for piece in _merged(_pieces(fold, halves)):
            if piece.strand is not None:
                path = ((x, piece.top), (x, piece.bottom))
                live = piece.strand.thickness == LIVE_MM
                flow = flow_of(live, is_home=x == HOME_X_MM)
                drawn += conductor(path, piece.strand.colour, piece.strand.thickness, flow)
    return drawn


def battery_bottom(placed: PlacedFloor) -> float:
    """Where the battery's case ends. [mm]"""
    return placed.middle + 3.6


def _half(placed: PlacedFloor, *, is_home: bool) -> Half | None:
    return placed.floor.home if is_home else placed.floor.out


def _pieces(fold: Fold, halves: Sequence[Half | None]) -> Iterator[_Piece]:
    """Yield what is above and below the middle of each floor."""
    strands = [_strand(fold, half) for half in halves]
    for number, (placed, half) in enumerate(zip(fold.floors, halves, strict=True)):
        before, after = _before(strands, halves, number), _after(strands, halves, number)
        upper, lower = strands[number], strands[number]
        if placed.floor.kind == "load":
            upper = before
            lower = before if placed is not fold.floors[-1] else None
        elif placed.floor.kind == "battery":
            upper, lower = None, after
        elif half is None or half.form == "body":
            upper, lower = None, None
        elif half.form == "through":
            upper, lower = before, before
        elif half.form in ("open", "ring"):
            upper, lower = (None, after) if after else (before, None)
        elif half.form != "wire":
            upper, lower = before or after, after
        middle = battery_bottom(placed) if placed.floor.kind == "battery" else placed.middle
        yield _Piece(placed.top, middle, upper)
        yield _Piece(middle, placed.bottom, lower)


def _strand(fold: Fold, half: Half | None) -> Strand | None:
    if half is None or half.form != "wire" or half.wire is None:
        return None
    return Strand(half.wire.colour, thickness_mm(fold.readings.is_live(half.ref)))


def _before(
    strands: Sequence[Strand | None], halves: Sequence[Half | None], number: int
) -> Strand | None:
    """Return the nearest strand towards the battery, if nothing ends in between."""
    for n in reversed(range(number)):
        half = halves[n]
        if strands[n] is not None:
            return strands[n]
        if half is not None and half.form in ("body", "open", "ring"):
            return None
    return None


def _after(
    strands: Sequence[Strand | None], halves: Sequence[Half | None], number: int
) -> Strand | None:
    """Return the nearest strand away from the battery, if nothing ends in between."""
    for n in range(number + 1, len(halves)):
        half = halves[n]
        if strands[n] is not None:
            return strands[n]
        if half is None or half.form in ("body", "open", "ring"):
            return None
    return None


def _merged(pieces: Iterator[_Piece]) -> Iterator[_Piece]:
    held: _Piece | None = None
    for piece in pieces:
        if held is not None and held.strand == piece.strand and held.bottom == piece.top:
            held = _Piece(held.top, piece.bottom, held.strand)
            continue
        if held is not None:
            yield held
        held = piece
    if held is not None:
        yield held


def _bodies(fold: Fold) -> Markup:
    """Draw the vehicle's chassis and the trailer's frame on the way home."""
    drawn = Markup("")
    last = fold.floors[-1]
    for placed in fold.floors:
        half = placed.floor.home
        is_battery = placed.floor.kind == "battery" and _meets_body(fold)
        if half is None or not (is_battery or half.form in ("body", "ring")):
            continue
        top, bottom = placed.top, placed.bottom
        if is_battery:
            top = battery_bottom(placed)
        elif half.form == "ring":
            is_frame = half.says == "frame"
            top = placed.middle if is_frame else placed.top
            bottom = placed.bottom if is_frame else placed.middle
        elif placed is last:
            bottom = placed.middle + 1.4
        drawn += _hatched(top, bottom)
    return drawn


def _meets_body(fold: Fold) -> bool:
    """Whether the chassis goes on below the battery."""
    below = fold.floors[1].floor.home if len(fold.floors) > 1 else None
    return below is not None and below.form in ("body", "ring")


def _hatched(top: float, bottom: float) -> Markup:
    """Draw a sheet of metal seen from its edge."""
    steps = int((bottom - top) / HATCH_STEP_MM)
    strokes = "".join(
        f"M{HOME_X_MM:.2f} {top + HATCH_STEP_MM * (n + 1):.2f} l{HATCH_MM} -1.7 "
        for n in range(steps)
    )
    hatch = el("path", d=strokes.strip(), fill="none", stroke=SOFT_INK, stroke_width=0.3)
    line = rule((HOME_X_MM, top), (HOME_X_MM, bottom), line_mm=BODY_LINE_MM)
    return (hatch if strokes else Markup("")) + line
