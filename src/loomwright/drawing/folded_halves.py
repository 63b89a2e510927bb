"""The stations of a folded circuit, and the words on each side of its floors."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.folded_layout import (
    BODY_MM,
    BOX_END_MM,
    EDGE_MM,
    HOME_END_MM,
    HOME_WORDS_MM,
    HOME_X_MM,
    OUT_END_MM,
    OUT_WORDS_MM,
    OUT_X_MM,
    SMALL_MM,
    WIDTH_MM,
    Fold,
    PlacedFloor,
)
from loomwright.drawing.folded_plan import Half
from loomwright.drawing.folded_rails import battery_bottom
from loomwright.drawing.folded_words import Line, half_lines
from loomwright.drawing.ink import INK, LINE_MM, PAPER, SOFT_INK, STRONG_MM
from loomwright.drawing.lamps import glow_colour, glow_disc
from loomwright.drawing.lettering import Box, Label, shortened, wrapped
from loomwright.drawing.shapes import outline, ring, rule
from loomwright.quantities import show_current, show_voltage

CENTRE_FROM_MM = 36.0
CENTRE_TO_MM = 60.0
PIN_MM = 3.3
BASE = 0.36


def bodies(fold: Fold, placed: PlacedFloor) -> Markup:
    """Draw what spans a floor behind its conductors: battery, socket, plug, junction."""
    inner = Box(EDGE_MM, placed.top + 0.7, WIDTH_MM - EDGE_MM, placed.bottom - 0.7)
    match placed.floor.kind:
        case "battery":
            return _battery(fold, placed)
        case "socket" | "plug":
            return outline(inner, STRONG_MM, 2.2) + _centre(placed)
        case "station" if placed.floor.out is not None and placed.floor.out.form == "screw":
            return outline(inner, LINE_MM, 1.0) + _centre(placed)
        case _:
            return Markup("")


def half_marks(fold: Fold, placed: PlacedFloor, half: Half, *, is_home: bool) -> Markup:
    """Draw the mark of one side of a floor on its conductor, and its words beside it."""
    x = HOME_X_MM if is_home else OUT_X_MM
    return _symbol(fold, placed, half, x) + _words(fold, placed, half, is_home=is_home)


def contact(placed: PlacedFloor, below: PlacedFloor, x: float) -> Markup:
    """Draw the contact between a pin of the socket and the plug's below it."""
    drawn = rule((x, placed.middle), (x, below.middle), line_mm=1.2)
    drawn += ring(x, placed.bottom - 0.7, 1.3, 0.4, fill=PAPER)
    return drawn + ring(x, below.top + 0.7, 1.3, 0.4, fill=INK)


def _battery(fold: Fold, placed: PlacedFloor) -> Markup:
    top, bottom = placed.top + 1.6, battery_bottom(placed)
    drawn = Markup("").join(
        outline(Box(x - 3.0, top - 1.6, x + 3.0, top), LINE_MM, fill=INK)
        for x in (OUT_X_MM, HOME_X_MM)
    )
    drawn += outline(Box(EDGE_MM, top, WIDTH_MM - EDGE_MM, bottom), STRONG_MM, 1.4)
    y = (top + bottom) / 2
    for sign, x in (("+", OUT_X_MM), ("−", HOME_X_MM)):
        drawn += Label(sign, x, y + 1.9, 5.4, bold=True, anchor="middle").svg()
    answer = fold.readings.answer
    supply = fold.plan.rig.vehicle.supply
    volts = show_voltage(supply.running_v if answer is None else answer.supply_v)
    word = Label("battery", OUT_WORDS_MM, y + BASE * SMALL_MM, SMALL_MM)
    drawn += word.svg()
    at = OUT_WORDS_MM + word.width + 2.0
    return drawn + Label(volts, at, y + BASE * BODY_MM, BODY_MM, bold=True).svg()


def _centre(placed: PlacedFloor) -> Markup:
    """Write the name of a station between its two conductors."""
    room = CENTRE_TO_MM - CENTRE_FROM_MM
    lines = wrapped(placed.floor.title, room, SMALL_MM, most=2)
    middle = placed.top + 6.75
    first = middle + BASE * SMALL_MM - 2.1 * (len(lines) - 1)
    return Markup("").join(
        Label(line, WIDTH_MM / 2, first + 4.2 * n, SMALL_MM, anchor="middle", ink=SOFT_INK).svg()
        for n, line in enumerate(lines)
    )


def _symbol(fold: Fold, placed: PlacedFloor, half: Half, x: float) -> Markup:
    y = placed.middle
    match half.form:
        case "fuse" if half.fuse is not None:
            drawn = outline(Box(x - 5.9, y - 3.2, x + 5.9, y + 3.2), 0.5, 1.2)
            drawn += _middle(show_current(half.fuse.rating_a), x, y)
        case "box" if placed.floor.kind == "station":
            box = Box(EDGE_MM, placed.top + 1.0, BOX_END_MM, placed.top + 17.0)
            drawn = outline(box, STRONG_MM, 1.4)
        case "wire" if half.lamps is not None and half.lamps.lights:
            drawn = _own_lamps(fold, placed, half, x)
        case _:
            drawn = _connection(half, x, y)
    return drawn


def _connection(half: Half, x: float, y: float) -> Markup:
    """Draw where two conductors meet: barrel, pin, screw or ring; or where one ends."""
    drawn = Markup("")
    if half.form == "pin" or (half.form == "open" and half.station == "plug"):
        drawn = ring(x, y, PIN_MM, 0.5, fill=PAPER) + _middle(half.says, x, y)
    elif half.form == "joint":
        drawn = outline(Box(x - 3.0, y - 3.6, x + 3.0, y + 3.6), 0.4, 1.0)
        for d in (-1.6, 1.6):
            drawn += rule((x - 3.0, y + d), (x + 3.0, y + d), line_mm=0.25)
    elif half.form == "screw":
        drawn = ring(x, y, PIN_MM, 0.5, fill=PAPER)
        drawn += rule((x - 1.7, y + 1.7), (x + 1.7, y - 1.7), line_mm=0.5)
    elif half.form == "ring":
        drawn = ring(x, y, 2.6, 0.5, fill=PAPER) + ring(x, y, 0.7, 0.9, fill=INK)
    elif half.form == "open":
        drawn = rule((x - 3.2, y), (x + 3.2, y), line_mm=0.9)
    return drawn


def _middle(words: str, x: float, y: float) -> Markup:
    return Label(words, x, y + BASE * SMALL_MM, SMALL_MM, bold=True, anchor="middle").svg()


def _own_lamps(fold: Fold, placed: PlacedFloor, half: Half, x: float) -> Markup:
    """Draw the vehicle's own lamps on a feed as one disc with their number and word."""
    feed = half.lamps
    if feed is None:
        return Markup("")
    answers = fold.readings.vehicle_lamps(feed.function)
    lit = [each for each in answers if each.word != "off"]
    share = max((each.light_share or 0.0 for each in lit), default=0.0 if answers else None)
    y, at = placed.top + 18.6, OUT_WORDS_MM + 2.8
    drawn = rule((x, y), (at - 2.6, y), line_mm=0.5)
    flashes = feed.function in fold.readings.flashing
    drawn += glow_disc(at, y, share, glow_colour(feed.function), 2.5, is_flashing=flashes)
    word = lit[0].word if lit else ("off" if answers else "")
    count = f"×{len(feed.lights)} vehicle"
    label = Label(count, at + 4.6, y + BASE * SMALL_MM, SMALL_MM, ink=SOFT_INK)
    drawn += label.svg()
    if not word:
        return drawn
    after = label.x + label.width + 1.4
    return drawn + Label(word, after, label.y, SMALL_MM, bold=bool(lit)).svg()


def _words(fold: Fold, placed: PlacedFloor, half: Half, *, is_home: bool) -> Markup:
    drawn = Markup("")
    lines = half_lines(fold, placed.floor, half, is_home=is_home)
    step, room = 4.9, _room(half, is_home=is_home)
    first = placed.middle + BASE * SMALL_MM - step * (len(lines) - 1) / 2
    for number, line in enumerate(lines):
        drawn += _line(line, first + step * number, room, is_home=is_home)
    return drawn


def _room(half: Half, *, is_home: bool) -> float:
    if is_home:
        return HOME_WORDS_MM - HOME_END_MM
    return (BOX_END_MM - 1.5 if half.form == "box" else OUT_END_MM) - OUT_WORDS_MM


def _line(line: Line, y: float, room: float, *, is_home: bool) -> Markup:
    """Write one line: from the left on the way out, up to the right on the way home."""
    x = HOME_WORDS_MM - min(line.width, room) if is_home else OUT_WORDS_MM
    drawn = Markup("")
    for word in line.words:
        text = shortened(word.text, room, SMALL_MM, bold=word.bold)
        ink = INK if word.bold else SOFT_INK
        label = Label(text, x, y, SMALL_MM, bold=word.bold, ink=ink)
        drawn += label.svg()
        x += label.width + Line.GAP_MM
        room -= label.width + Line.GAP_MM
    return drawn
