"""Findings on the drawing: a solid block must be mended, an outline should be, a note is plain."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from loomwright.checks.rule import Severity
from loomwright.drawing.ink import INK, LINE_MM, PAPER, SMALL_MM
from loomwright.drawing.lettering import Box, Label, text_width_mm
from loomwright.drawing.run_layout import Column
from loomwright.drawing.run_plan import RunPlan, row_of
from loomwright.drawing.run_stations import halves
from loomwright.drawing.shapes import outline

if TYPE_CHECKING:
    from loomwright.drawing.run_layout import Columns, Scene

HEIGHT_MM = 3.7
PAD_MM = 1.0
GAP_MM = 1.0

BETWEEN_PLUG_AND_JUNCTION = ("plug", "cord")

WRONG_WAY = "wrong way"
"""Code of a mark where current comes back out of a load, against its way."""

FindingMark = tuple[str, str, str, str]
"""Station, function ("" for the whole station), rule code and severity word."""

PartMark = tuple[str, str, str, str, str]
"""The same, and the element of the part it is about."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A finding at its place: station and function of the run, rule code and severity word.

    `element` names the part of the circuit it is about, where that is known.
    """

    station: str
    function: str
    code: str
    severity: str
    element: str = ""

    @property
    def text(self) -> str:
        """The code, with the word where there is danger."""
        return f"danger {self.code}" if self.severity == Severity.DANGER else self.code

    @property
    def width(self) -> float:
        """Width of block and text. [mm]"""
        return text_width_mm(self.text, SMALL_MM, bold=True) + 2 * PAD_MM


def row_of_mark(plan: RunPlan, mark: Mark) -> str:
    """Return the row or lane a mark stands in; "" where it belongs to the whole station."""
    if mark.function in plan.returns:
        return mark.function
    row = row_of(mark.function)
    return row if row in plan.rows else ""


def finding_marks(scene: Scene, marks: Iterable[Mark]) -> Markup:
    """Draw every mark above its row, at its station, none over another nor over a body."""
    page = Column(GAP_MM, scene.x.width - GAP_MM)
    placed: dict[tuple[str, Column], list[tuple[float, Mark]]] = {}
    for mark in dict.fromkeys(marks):
        row = row_of_mark(scene.plan, mark)
        x, span = _beside_the_bodies(scene, mark) if row else (_middle(scene, mark), page)
        placed.setdefault((row, span), []).append((x, mark))
    return Markup("").join(
        mark_block(mark, left, scene.y.marks[row])
        for (row, span), each in placed.items()
        for mark, left in _side_by_side(each, span)
    )


def cord_marks_mm(plan: RunPlan, marks: Iterable[Mark]) -> float:
    """Return the room that the marks of one row need between the plug and the junction. [mm]"""
    rooms: dict[str, float] = {}
    for mark in dict.fromkeys(marks):
        row = row_of_mark(plan, mark)
        if row and mark.station in BETWEEN_PLUG_AND_JUNCTION:
            rooms[row] = rooms.get(row, GAP_MM) + mark.width + GAP_MM
    return max(rooms.values(), default=0.0)


def mark_block(mark: Mark, left: float, middle: float) -> Markup:
    """Draw one mark from `left` on, centred on the height `middle`."""
    is_solid = mark.severity in (Severity.DANGER, Severity.MUST)
    drawn = Markup("")
    if mark.severity != Severity.NOTE:
        box = Box(left, middle - HEIGHT_MM / 2, left + mark.width, middle + HEIGHT_MM / 2)
        drawn = outline(box, LINE_MM, 0.5, fill=INK if is_solid else PAPER)
    ink = PAPER if is_solid else INK
    baseline = middle + 0.36 * SMALL_MM
    bold = mark.severity != Severity.NOTE
    return drawn + Label(mark.text, left + PAD_MM, baseline, SMALL_MM, bold=bold, ink=ink).svg()


def station_column(x: Columns, station: str) -> Column:
    """Return the part of the page a station of the run stands in."""
    places = {
        "battery": x.battery,
        "fuse": x.feed,
        "feed": x.feed,
        "converter": x.joins[0],
        "joint": x.joins[-1],
        "lead": x.leads[-1],
        "socket": x.socket,
        "plug": x.socket,
        "cord": x.cord,
        "junction": x.junction,
        "run": x.run,
        "branch": x.loads,
        "load": x.loads,
        "chassis": x.feed,
    }
    return places.get(station, x.feed)


def _middle(scene: Scene, mark: Mark) -> float:
    return station_column(scene.x, mark.station).middle


def _beside_the_bodies(scene: Scene, mark: Mark) -> tuple[float, Column]:
    """Return where a mark of a row would be, and the free space between bodies that it stays in.

    Socket, plug and junction pass every row: what is found at them stands beside them.
    """
    near, far = halves(scene)
    junction = scene.x.junction
    before = Column(GAP_MM, near.left - GAP_MM)
    between = Column(far.right + GAP_MM, junction.left - GAP_MM)
    after = Column(junction.right + GAP_MM, scene.x.width - GAP_MM)
    if mark.station == "socket":
        return before.right, before
    if mark.station == "plug":
        return between.left, between
    if mark.station == "junction":
        return after.left, after
    x = _middle(scene, mark)
    return x, next(span for span in (before, between, after) if x < span.right)


def _side_by_side(placed: list[tuple[float, Mark]], span: Column) -> list[tuple[Mark, float]]:
    placed = sorted(placed, key=lambda each: each[0])
    lefts: list[float] = []
    for x, mark in placed:
        left = max(x - mark.width / 2, span.left)
        lefts.append(max(left, lefts[-1]) if lefts else left)
        if len(lefts) > 1:
            before = placed[len(lefts) - 2][1]
            lefts[-1] = max(left, lefts[-2] + before.width + GAP_MM)
    right = span.right
    for n in reversed(range(len(lefts))):
        lefts[n] = min(lefts[n], right - placed[n][1].width)
        right = lefts[n] - GAP_MM
    return [(mark, left) for (_, mark), left in zip(placed, lefts, strict=True)]
