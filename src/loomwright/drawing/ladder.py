"""Where the volts go: every part between battery and load, and back, as a bar and as a ladder."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from loomwright.drawing.ink import (
    BODY_MM,
    HAIRLINE_MM,
    INK,
    LARGE_MM,
    LINE_MM,
    PAPER,
    SMALL_MM,
    SOFT_INK,
)
from loomwright.drawing.lettering import Box, Label, shortened
from loomwright.drawing.shapes import outline, rule, striped
from loomwright.drawing.svg import document
from loomwright.electrics.answers import LoadAnswer, Path, Rung
from loomwright.quantities import show_current, show_resistance, show_voltage

WIDTH_MM = 180.0
MARGIN_MM = 2.0
HEADING_Y_MM = 5.2
BRACKET_Y_MM = 12.0
BAR_TOP_MM = 14.0
BAR_MM = 9.0
STEPS_TOP_MM = 31.0
STEP_MM = 4.8
PLACE_MM = 82.0
VOLTS_X_MM = 100.0
STEP_BAR_X_MM = 103.0
STEP_BAR_MM = 42.0
MOST_STEPS = 14
LEAST_SHARE = 0.01
OTHERS = "smaller parts together"


@dataclass(frozen=True, slots=True)
class _Step:
    """One line of the ladder: a part, or the small ones of one way taken together."""

    words: str
    path: Path
    drop_v: float
    figures: str


def drop_ladder(load: LoadAnswer) -> str:
    """Return the ladder of drops of one load.

    Parameters
    ----------
    load : LoadAnswer
        Its `ladder` is drawn in order: the way out solid, the way home striped. Parts below
        a hundredth of all drops stand together in one line for each way.

    Returns
    -------
    str
        SVG, 180 mm wide, as high as the ladder is long.
    """
    steps = _steps(load)
    height = STEPS_TOP_MM + STEP_MM * len(steps) + 1.0
    return document(
        WIDTH_MM,
        height,
        _heading(load),
        _stacked(load),
        *(_step(step, steps, STEPS_TOP_MM + STEP_MM * n) for n, step in enumerate(steps)),
        title=f"Drops to {load.name}",
        says=f"{show_voltage(load.supply_drop_v)} are lost on the way out, "
        f"{show_voltage(load.return_drop_v)} on the way home, "
        f"{show_voltage(load.voltage_v)} are left at {load.name}.",
    )


def _heading(load: LoadAnswer) -> Markup:
    total = load.supply_drop_v + load.voltage_v + load.return_drop_v
    right = Label(
        f"of {show_voltage(total)}", WIDTH_MM - MARGIN_MM, HEADING_Y_MM, SMALL_MM, anchor="end"
    )
    volts = Label(
        show_voltage(load.voltage_v),
        right.box.left - 1.4,
        HEADING_Y_MM,
        LARGE_MM,
        bold=True,
        anchor="end",
    )
    room = volts.box.left - MARGIN_MM - 4.0
    name = shortened(load.name, room, LARGE_MM, bold=True)
    return (
        Label(name, MARGIN_MM, HEADING_Y_MM, LARGE_MM, bold=True).svg() + volts.svg() + right.svg()
    )


def _stacked(load: LoadAnswer) -> Markup:
    """Draw the whole EMF as one bar: out, load, home."""
    parts = [max(part, 0.0) for part in (load.supply_drop_v, load.voltage_v, load.return_drop_v)]
    total = sum(parts) or 1.0
    width = WIDTH_MM - 2 * MARGIN_MM
    first = MARGIN_MM + width * parts[0] / total
    second = first + width * parts[1] / total
    bottom = BAR_TOP_MM + BAR_MM
    drawn = outline(Box(first, BAR_TOP_MM, second, bottom), LINE_MM)
    drawn += outline(Box(MARGIN_MM, BAR_TOP_MM, first, bottom), LINE_MM, fill=INK)
    drawn += striped(Box(second, BAR_TOP_MM, WIDTH_MM - MARGIN_MM, bottom))
    drawn += _joints(load, width / total)
    out = f"out {show_voltage(load.supply_drop_v)}"
    home = f"home {show_voltage(load.return_drop_v)}"
    drawn += Label(out, MARGIN_MM, BRACKET_Y_MM, BODY_MM, bold=True).svg()
    drawn += Label(home, WIDTH_MM - MARGIN_MM, BRACKET_Y_MM, BODY_MM, bold=True, anchor="end").svg()
    words = f"{show_voltage(load.voltage_v)} at the load"
    label = Label(
        words, (first + second) / 2, BAR_TOP_MM + 6.0, BODY_MM, bold=True, anchor="middle"
    )
    return drawn + (label.svg() if label.width < second - first - 2.0 else "")


def _joints(load: LoadAnswer, scale: float) -> Markup:
    """Draw a line between the parts of the way out, where they are wide enough to tell apart."""
    drawn, x = Markup(""), MARGIN_MM
    for rung in load.ladder:
        if rung.part.path == "supply" and rung.part.kind != "load":
            step = abs(rung.drop_v) * scale
            x += step
            if step > 0.6:
                drawn += rule(
                    (x, BAR_TOP_MM), (x, BAR_TOP_MM + BAR_MM), line_mm=HAIRLINE_MM, ink=PAPER
                )
    return drawn


def _steps(load: LoadAnswer) -> list[_Step]:
    rungs = [rung for rung in load.ladder if rung.part.kind != "load"]
    lost_v = sum(abs(rung.drop_v) for rung in rungs)
    in_order = sorted(rungs, key=lambda rung: -abs(rung.drop_v))
    shown = [rung for rung in in_order[:MOST_STEPS] if abs(rung.drop_v) >= LEAST_SHARE * lost_v]
    steps: list[_Step] = []
    for path in ("supply", "return"):
        mine = [rung for rung in rungs if rung.part.path == path]
        steps += [_of(rung) for rung in mine if rung in shown]
        rest = [rung for rung in mine if rung not in shown]
        if rest:
            rest_v = sum(rung.drop_v for rung in rest)
            steps.append(_Step(f"{len(rest)} {OTHERS}", path, rest_v, ""))
    return steps


def _of(rung: Rung) -> _Step:
    figures = f"{show_current(rung.current_a)} × {show_resistance(rung.resistance_ohm)}"
    return _Step(rung.part.place, rung.part.path, rung.drop_v, figures)


def _step(step: _Step, steps: list[_Step], y: float) -> Markup:
    largest = max(abs(each.drop_v) for each in steps) or 1.0
    bar = Box(
        STEP_BAR_X_MM,
        y - 2.4,
        STEP_BAR_X_MM + max(STEP_BAR_MM * abs(step.drop_v) / largest, 0.2),
        y + 0.4,
    )
    drawn = striped(bar) if step.path == "return" else outline(bar, LINE_MM, fill=INK)
    words = shortened(step.words, PLACE_MM, SMALL_MM)
    drawn += Label(words, MARGIN_MM, y, SMALL_MM).svg()
    volts = show_voltage(step.drop_v)
    drawn += Label(volts, VOLTS_X_MM, y, SMALL_MM, bold=True, anchor="end").svg()
    figures = Label(step.figures, WIDTH_MM - MARGIN_MM, y, SMALL_MM, anchor="end", ink=SOFT_INK)
    return drawn + (figures.svg() if step.figures else "")
