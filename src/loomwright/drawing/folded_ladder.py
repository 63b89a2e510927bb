"""The ladder of drops at the width of a phone: one bar, then every part that matters."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from loomwright.drawing.folded_layout import BODY_MM, EDGE_MM, SMALL_MM, WIDTH_MM
from loomwright.drawing.ink import INK, LINE_MM, SOFT_INK
from loomwright.drawing.lettering import Box, Label, shortened
from loomwright.drawing.shapes import outline, striped
from loomwright.drawing.svg import document
from loomwright.electrics.answers import LoadAnswer, Path, Rung
from loomwright.quantities import show_voltage

BAR_TOP_MM = 7.4
BAR_MM = 8.0
STEPS_TOP_MM = 22.0
STEP_MM = 11.2
STEP_BAR_MM = 2.6
MOST_STEPS = 8
LEAST_SHARE = 0.03
OTHERS = "smaller parts together"


@dataclass(frozen=True, slots=True)
class _Step:
    """One part of the way, or the small ones of one way together."""

    words: str
    path: Path
    drop_v: float


def drop_bar(load: LoadAnswer) -> str:
    """Return the bar alone: lost on the way out, left at the load, lost on the way home.

    Parameters
    ----------
    load : LoadAnswer
        Its drops and its voltage.

    Returns
    -------
    str
        SVG, 96 mm wide.
    """
    return document(
        WIDTH_MM,
        BAR_TOP_MM + BAR_MM + 1.0,
        _bar(load),
        title=f"Drops to {load.name}",
        says=_says(load),
    )


def folded_ladder(load: LoadAnswer) -> str:
    """Return the bar and below it each part that takes a share, out then home.

    Parameters
    ----------
    load : LoadAnswer
        Its `ladder` is drawn in order; parts below 3 % of all drops stand together.

    Returns
    -------
    str
        SVG, 96 mm wide, as high as the ladder is long.
    """
    steps = _steps(load)
    return document(
        WIDTH_MM,
        STEPS_TOP_MM + STEP_MM * len(steps),
        _bar(load),
        *(_step(step, steps, STEPS_TOP_MM + STEP_MM * n) for n, step in enumerate(steps)),
        title=f"Drops to {load.name}",
        says=_says(load),
    )


def _says(load: LoadAnswer) -> str:
    return (
        f"{show_voltage(load.supply_drop_v)} are lost on the way out, "
        f"{show_voltage(load.return_drop_v)} on the way home, "
        f"{show_voltage(load.voltage_v)} are left at {load.name}."
    )


def _bar(load: LoadAnswer) -> Markup:
    parts = [max(part, 0.0) for part in (load.supply_drop_v, load.voltage_v, load.return_drop_v)]
    total = sum(parts) or 1.0
    width, bottom = WIDTH_MM - 2 * EDGE_MM, BAR_TOP_MM + BAR_MM
    first = EDGE_MM + width * parts[0] / total
    second = first + width * parts[1] / total
    drawn = outline(Box(first, BAR_TOP_MM, second, bottom), LINE_MM)
    drawn += outline(Box(EDGE_MM, BAR_TOP_MM, first, bottom), LINE_MM, fill=INK)
    drawn += striped(Box(second, BAR_TOP_MM, WIDTH_MM - EDGE_MM, bottom))
    out = Label(f"out {show_voltage(load.supply_drop_v)}", EDGE_MM, 5.2, SMALL_MM)
    home_x = WIDTH_MM - EDGE_MM
    home = Label(f"home {show_voltage(load.return_drop_v)}", home_x, 5.2, SMALL_MM, anchor="end")
    words = show_voltage(load.voltage_v)
    left = Label(words, (first + second) / 2, BAR_TOP_MM + 5.4, BODY_MM, True, "middle")
    fits = left.width < second - first - 2.0
    return drawn + out.svg() + home.svg() + (left.svg() if fits else Markup(""))


def _steps(load: LoadAnswer) -> list[_Step]:
    rungs = [rung for rung in load.ladder if rung.part.kind != "load"]
    lost_v = sum(abs(rung.drop_v) for rung in rungs)
    by_drop = sorted(rungs, key=lambda rung: -abs(rung.drop_v))
    shown = [rung for rung in by_drop[:MOST_STEPS] if abs(rung.drop_v) >= LEAST_SHARE * lost_v]
    steps: list[_Step] = []
    for path in ("supply", "return"):
        mine = [rung for rung in rungs if rung.part.path == path]
        steps += [_of(rung) for rung in mine if rung in shown]
        rest = [rung for rung in mine if rung not in shown]
        if rest:
            steps.append(_Step(f"{len(rest)} {OTHERS}", path, sum(rung.drop_v for rung in rest)))
    return steps


def _of(rung: Rung) -> _Step:
    return _Step(rung.part.place, rung.part.path, rung.drop_v)


def _step(step: _Step, steps: list[_Step], top: float) -> Markup:
    """Draw one part: words and volts on a line, its share as a bar below."""
    largest = max(abs(each.drop_v) for each in steps) or 1.0
    volts = Label(
        show_voltage(step.drop_v), WIDTH_MM - EDGE_MM, top + 2.4, SMALL_MM, bold=True, anchor="end"
    )
    room = WIDTH_MM - 2 * EDGE_MM - volts.width - 2.5
    home = "← " if step.path == "return" else ""
    words = shortened(f"{home}{step.words}", room, SMALL_MM)
    ink = SOFT_INK if step.words.endswith(OTHERS) else INK
    drawn = Label(words, EDGE_MM, top + 2.4, SMALL_MM, ink=ink).svg() + volts.svg()
    length = max((WIDTH_MM - 2 * EDGE_MM) * abs(step.drop_v) / largest, 0.3)
    bar = Box(EDGE_MM, top + 4.2, EDGE_MM + length, top + 4.2 + STEP_BAR_MM)
    return drawn + (striped(bar) if step.path == "return" else outline(bar, LINE_MM, fill=INK))
