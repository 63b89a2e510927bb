"""The loads at the far end of the run: what is written beside each, and how wide it is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from loomwright.drawing.ink import SMALL_MM
from loomwright.drawing.lettering import shortened, text_width_mm
from loomwright.drawing.run_plan import LoadMark, RunPlan
from loomwright.drawing.run_readings import LIVE_ABOVE_A, SHOWN_FROM_V, Readings
from loomwright.electrics.answers import LoadAnswer
from loomwright.quantities import show_current, show_length, show_share, show_voltage

NAME_MM = 36.0
GAP_MM = 1.9
TEXT_X_MM = 4.0
SYMBOL_X_MM = 3.2
RAIL_STEP_MM = 4.4


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One load and what is written beside it: name, then up to three figures.

    `is_flashing` says that the command makes it flash; it is drawn in the lit half.
    """

    mark: LoadMark
    answer: LoadAnswer | None
    name: str
    figures: tuple[str, str, str]
    rail: int
    is_flashing: bool = False


def load_lines(
    plan: RunPlan, readings: Readings, marks: Iterable[LoadMark]
) -> tuple[LoadLine, ...]:
    """Return the lines of some loads."""
    return tuple(_line(plan, readings, mark) for mark in marks)


def load_columns_mm(lines: Iterable[LoadLine]) -> float:
    """Width that symbol, name and figures need. [mm]"""
    lines = tuple(lines)
    names, *figures = column_widths(lines)
    rails = max((line.rail for line in lines), default=0)
    used = [width + GAP_MM for width in figures if width]
    return SYMBOL_X_MM + RAIL_STEP_MM * rails + TEXT_X_MM + names + sum(used)


def column_widths(lines: Iterable[LoadLine]) -> tuple[float, float, float, float]:
    """Widths of name and figures over all lines. [mm]"""
    lines = tuple(lines)
    names = max((text_width_mm(line.name, SMALL_MM) for line in lines), default=0.0)
    first, second, third = (
        max((text_width_mm(line.figures[n], SMALL_MM, bold=n != 1) for line in lines), default=0.0)
        for n in range(3)
    )
    return names, first, second, third


def is_on(line: LoadLine) -> bool:
    """Whether current flows through the load."""
    return line.answer is not None and abs(line.answer.current_a) > LIVE_ABOVE_A


def _line(plan: RunPlan, readings: Readings, mark: LoadMark) -> LoadLine:
    answer = readings.load(mark)
    name = shortened(mark.name, NAME_MM, SMALL_MM)
    rail = plan.returns.index(mark.returned_by) if mark.returned_by in plan.returns else 0
    if answer is None:
        branch = f"{mark.branch.size} {show_length(mark.branch.length_m, plan.rig.units)}"
        distance = show_length(mark.back_m, plan.rig.units)
        figures = (
            ("", branch.replace(" ", "\u00a0"), distance)
            if readings.answer is None
            else ("", "", "")
        )
    else:
        figures = (_volts(answer), _strength(answer), answer.word)
    return LoadLine(mark, answer, name, figures, rail, mark.function in readings.flashing)


def _volts(answer: LoadAnswer) -> str:
    if answer.floating or abs(answer.voltage_v) < SHOWN_FROM_V:
        return ""
    return show_voltage(answer.voltage_v)


def _strength(answer: LoadAnswer) -> str:
    """Light as a whole percentage, or the current of what gives no light."""
    if abs(answer.current_a) <= LIVE_ABOVE_A or answer.word == "off":
        return ""
    if answer.light_share is None:
        return show_current(answer.current_a)
    return show_share(round(answer.light_share, 2))
