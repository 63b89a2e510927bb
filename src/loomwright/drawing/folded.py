"""The run folded for a phone: one circuit below the other, out on the left and home on the right.

The same readings, conductors and marks as `run.run_drawing`, at a width a phone shows whole.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from loomwright.checks.rule import Severity
from loomwright.drawing.folded_halves import bodies, contact, half_marks
from loomwright.drawing.folded_layout import (
    BODY_MM,
    EDGE_MM,
    FOOT_MM,
    GAP_MM,
    HOME_X_MM,
    LARGE_MM,
    MARK_PAD_MM,
    OUT_X_MM,
    SMALL_MM,
    WIDTH_MM,
    Fold,
    PlacedFloor,
    PlacedMark,
    lay_floors,
    mark_width_mm,
    marks_by_floor,
)
from loomwright.drawing.folded_loads import load_marks, rung
from loomwright.drawing.folded_plan import Half, circuits, fold
from loomwright.drawing.folded_rails import rails
from loomwright.drawing.ink import INK, LINE_MM, PAPER, SOFT_INK
from loomwright.drawing.lettering import Box, Label, shortened
from loomwright.drawing.part_names import PartNames, part_names
from loomwright.drawing.run_marks import FindingMark, Mark, PartMark
from loomwright.drawing.run_plan import RunPlan, plan_run
from loomwright.drawing.run_readings import Readings, readings_of
from loomwright.drawing.shapes import outline
from loomwright.drawing.svg import document
from loomwright.electrics.answers import CommandAnswer
from loomwright.quantities import show_current
from loomwright.rig.model import Rig


def circuit_rows(rig: Rig) -> tuple[str, ...]:
    """Return the circuits of a rig's run by their keys, in the order of the run."""
    return circuits(plan_run(rig))


@dataclass(frozen=True, slots=True)
class DrawnCircuit:
    """One circuit drawn by itself: its key and title, what it carries [A], and the SVG.

    `current_a` is None where it carries nothing, or nothing is known.
    """

    row: str
    title: str
    current_a: float | None
    svg: str


def folded_circuits(
    rig: Rig,
    answer: CommandAnswer | None = None,
    findings: Iterable[FindingMark | PartMark] = (),
    link: str = "",
) -> tuple[DrawnCircuit, ...]:
    """Return every circuit of a rig drawn by itself; parameters as for `folded_run`."""
    plan = plan_run(rig)
    readings, marks = readings_of(plan, answer), tuple(findings)
    names = part_names(rig, link=link)
    drawn = []
    for row in circuits(plan):
        circuit = fold(plan, row)
        svg = _drawn(plan, (row,), readings, marks, names)
        drawn.append(DrawnCircuit(row, circuit.title, readings.amps(circuit.ref), svg))
    return tuple(drawn)


def folded_run(
    rig: Rig,
    answer: CommandAnswer | None = None,
    findings: Iterable[FindingMark | PartMark] = (),
    circuit: str | None = None,
    link: str = "",
) -> str:
    """Return the run of a rig, or of one of its circuits, for a narrow page.

    Parameters
    ----------
    rig : Rig
        What is drawn.
    answer : CommandAnswer or None
        Readings of one command; None draws the wiring alone.
    findings : iterable of sequences of str
        Station, function, code and severity word of each, and the element of its part if known.
    circuit : str or None
        One of `circuit_rows`; None draws them all, one below the other.
    link : str
        Address behind each part, with ``{part}`` where its element goes.

    Returns
    -------
    str
        SVG, 96 mm wide, as high as it takes.
    """
    plan = plan_run(rig)
    rows = circuits(plan) if circuit is None else (circuit,)
    names = part_names(rig, link=link)
    return _drawn(plan, rows, readings_of(plan, answer), findings, names)


def _drawn(
    plan: RunPlan,
    rows: Sequence[str],
    readings: Readings,
    findings: Iterable[FindingMark | PartMark],
    every: PartNames,
) -> str:
    marks = [Mark(*finding) for finding in findings]
    folds, y = [], 0.0
    for row in rows:
        names = replace(every, prefix=f"fold-{row}")
        circuit = fold(plan, row)
        floors = lay_floors(circuit, marks_by_floor(circuit, marks, names), y)
        folds.append(Fold(plan, circuit, readings, names, floors, y))
        y = floors[-1].bottom + GAP_MM
    words = ", ".join(each.circuit.title for each in folds)
    return document(
        WIDTH_MM,
        y - GAP_MM + FOOT_MM,
        *(_circuit(each) for each in folds),
        title=f"The run of {plan.rig.name}: {words}",
        says="From the battery down to the loads on the left, and home on the right.",
        role="group" if every.link else "img",
    )


def _circuit(fold: Fold) -> Markup:
    drawn = _head(fold)
    drawn += Markup("").join(bodies(fold, placed) for placed in fold.floors)
    drawn += Markup("").join(rung(fold, placed) for placed in fold.floors)
    drawn += rails(fold)
    drawn += _contacts(fold)
    return drawn + Markup("\n").join(_floor(fold, placed) for placed in fold.floors)


def _head(fold: Fold) -> Markup:
    """Write the circuit's name, and what it carries."""
    y = fold.top + 6.2
    amps = fold.readings.amps(fold.circuit.ref)
    says = "" if fold.readings.answer is None else "carries nothing"
    words = says if amps is None else show_current(amps)
    end = Label(
        words,
        WIDTH_MM - EDGE_MM,
        y,
        BODY_MM if amps is None else LARGE_MM,
        bold=amps is not None,
        anchor="end",
        ink=SOFT_INK if amps is None else INK,
    )
    room = WIDTH_MM - 2 * EDGE_MM - end.width - 3.0
    name = shortened(fold.circuit.title, room, LARGE_MM, bold=True)
    drawn = Label(name, EDGE_MM, y, LARGE_MM, bold=True).svg()
    return drawn + (end.svg() if words else Markup(""))


def _floor(fold: Fold, placed: PlacedFloor) -> Markup:
    floor, names = placed.floor, fold.names
    marks = Markup("").join(_mark(each) for each in placed.marks)
    if floor.load is not None:
        return names.placed(load_marks(fold, placed) + marks, names.load(floor.load), placed.spot)
    drawn = Markup("")
    for half, spot, is_home in (
        (floor.out, placed.out_spot, False),
        (floor.home, placed.home_spot, True),
    ):
        if half is not None:
            mine = half_marks(fold, placed, half, is_home=is_home)
            if half.form in ("body", "through") and not mine:
                continue
            drawn += names.placed(mine, _element(names, half), spot)
    return drawn + marks


def _element(names: PartNames, half: Half) -> str | None:
    kind = "joint" if half.form == "ring" else ""
    return names.element(half.ref, half.station, half.function, kind)


def _contacts(fold: Fold) -> Markup:
    drawn = Markup("")
    for upper, lower in zip(fold.floors, fold.floors[1:], strict=False):
        if upper.floor.kind != "socket":
            continue
        for above, below, x in (
            (upper.floor.out, lower.floor.out, OUT_X_MM),
            (upper.floor.home, lower.floor.home, HOME_X_MM),
        ):
            if above is not None and below is not None and below.form == "pin":
                drawn += contact(upper, lower, x)
    return drawn


def _mark(placed: PlacedMark) -> Markup:
    mark, width = placed.mark, mark_width_mm(placed.mark)
    is_solid = mark.severity in (Severity.DANGER, Severity.MUST)
    drawn = Markup("")
    if mark.severity != Severity.NOTE:
        box = Box(placed.left, placed.middle - 2.6, placed.left + width, placed.middle + 2.6)
        drawn = outline(box, LINE_MM, 0.7, fill=INK if is_solid else PAPER)
    ink, bold = PAPER if is_solid else INK, mark.severity != Severity.NOTE
    x, y = placed.left + MARK_PAD_MM, placed.middle + 0.36 * SMALL_MM
    return drawn + Label(mark.text, x, y, SMALL_MM, bold=bold, ink=ink).svg()
