"""Where everything of a folded circuit stands, at the width of a phone. [mm]"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from loomwright.drawing.folded_plan import Circuit, Floor, Half
from loomwright.drawing.lettering import Box, text_width_mm
from loomwright.drawing.part_names import PartNames, load_ref
from loomwright.drawing.run_marks import Mark
from loomwright.drawing.run_plan import LoadMark, RunPlan
from loomwright.drawing.run_readings import Readings

WIDTH_MM = 96.0
"""363 px of CSS: a phone 390 px wide, without its margins."""

SMALL_MM = 3.4
BODY_MM = 4.1
LARGE_MM = 5.2

EDGE_MM = 2.0
OUT_X_MM = 9.5
HOME_X_MM = WIDTH_MM - OUT_X_MM
OUT_WORDS_MM = 17.0
HOME_WORDS_MM = WIDTH_MM - OUT_WORDS_MM
OUT_END_MM = 52.0
HOME_END_MM = 54.0
BOX_END_MM = 64.0
TITLE_MM = 10.5
GAP_MM = 8.0
FOOT_MM = 2.0
MARK_MM = 5.2
MARK_STEP_MM = 6.2
MARK_PAD_MM = 1.3
HEIGHTS_MM = {
    "battery": 13.5,
    "stretch": 15.5,
    "station": 13.5,
    "socket": 13.5,
    "plug": 13.5,
    "load": 15.5,
}
LAMPS_MM = 8.0
BOX_MM = 4.5


@dataclass(frozen=True, slots=True)
class PlacedMark:
    """A finding's mark and its left edge and middle. [mm]"""

    mark: Mark
    left: float
    middle: float


@dataclass(frozen=True, slots=True)
class PlacedFloor:
    """A floor with its place down the page, and the marks on it."""

    floor: Floor
    top: float
    bottom: float
    middle: float
    marks: tuple[PlacedMark, ...]

    @property
    def out_spot(self) -> Box:
        """Where the way out is touched."""
        return Box(0.0, self.top, WIDTH_MM / 2 - 0.5, self.bottom)

    @property
    def home_spot(self) -> Box:
        """Where the way home is touched."""
        return Box(WIDTH_MM / 2 + 0.5, self.top, WIDTH_MM, self.bottom)

    @property
    def spot(self) -> Box:
        """The whole floor."""
        return Box(0.0, self.top, WIDTH_MM, self.bottom)


@dataclass(frozen=True, slots=True)
class Fold:
    """One circuit laid out, with what is read on it."""

    plan: RunPlan
    circuit: Circuit
    readings: Readings
    names: PartNames
    floors: tuple[PlacedFloor, ...]
    top: float


def lay_floors(
    circuit: Circuit, marks: Mapping[int, tuple[Mark, ...]], top: float
) -> tuple[PlacedFloor, ...]:
    """Place the floors of a circuit one below the other; `marks` are by the floor's number."""
    placed, y = [], top + TITLE_MM
    for number, floor in enumerate(circuit.floors):
        height = _height(floor)
        shown, extra = _marks(floor, marks.get(number, ()), y + height)
        bottom = y + height + extra
        middle = y + (height if _is_box(floor) else HEIGHTS_MM[floor.kind]) / 2
        placed.append(PlacedFloor(floor, y, bottom, middle, shown))
        y = bottom
    return tuple(placed)


def mark_width_mm(mark: Mark) -> float:
    """Width of a mark's block at the size of the folded run. [mm]"""
    return text_width_mm(mark.text, SMALL_MM, bold=True) + 2 * MARK_PAD_MM


def marks_by_floor(
    circuit: Circuit, marks: Iterable[Mark], names: PartNames
) -> dict[int, tuple[Mark, ...]]:
    """Return the number of the floor each mark stands on; a mark of no floor is left out."""
    found: dict[int, list[Mark]] = {}
    for mark in dict.fromkeys(marks):
        number = _floor_of(circuit, mark, names)
        if number is not None:
            found.setdefault(number, []).append(mark)
    return {number: tuple(each) for number, each in found.items()}


def is_home(floor: Floor, mark: Mark) -> bool:
    """Whether a mark belongs to the way home."""
    return floor.home is not None and bool(mark.function) and floor.home.function == mark.function


def _height(floor: Floor) -> float:
    height = HEIGHTS_MM[floor.kind]
    half = floor.out
    if half is not None and half.lamps is not None and half.lamps.lights:
        height += LAMPS_MM
    return height + (BOX_MM if _is_box(floor) else 0.0)


def _is_box(floor: Floor) -> bool:
    return floor.kind == "station" and floor.out is not None and floor.out.form == "box"


def _marks(
    floor: Floor, marks: tuple[Mark, ...], top: float
) -> tuple[tuple[PlacedMark, ...], float]:
    """Place the marks of a floor in lines below its words; also return the height they take."""
    out = [mark for mark in marks if not is_home(floor, mark)]
    home = [mark for mark in marks if is_home(floor, mark)]
    room = HOME_WORDS_MM - OUT_WORDS_MM
    lines = _lines(out, room if not home else OUT_END_MM - OUT_WORDS_MM)
    home_lines = _lines(home, HOME_WORDS_MM - HOME_END_MM)
    placed = []
    for number, line in enumerate(lines):
        x = OUT_WORDS_MM
        for mark in line:
            placed.append(PlacedMark(mark, x, top + MARK_STEP_MM * (number + 0.5) - 1.0))
            x += mark_width_mm(mark) + 1.2
    for number, line in enumerate(home_lines):
        x = HOME_WORDS_MM
        for mark in line:
            x -= mark_width_mm(mark)
            placed.append(PlacedMark(mark, x, top + MARK_STEP_MM * (number + 0.5) - 1.0))
            x -= 1.2
    return tuple(placed), MARK_STEP_MM * max(len(lines), len(home_lines))


def _lines(marks: list[Mark], room: float) -> list[list[Mark]]:
    lines: list[list[Mark]] = []
    used = 0.0
    for mark in marks:
        width = mark_width_mm(mark)
        if not lines or used + width > room:
            lines.append([])
            used = 0.0
        lines[-1].append(mark)
        used += width + 1.2
    return lines


def _floor_of(circuit: Circuit, mark: Mark, names: PartNames) -> int | None:
    """Return the floor of a mark: that of its part, else of its station in this circuit."""
    part = names.parts.get(mark.element)
    numbered = list(enumerate(circuit.floors))
    if part is not None:
        key = (part.ref, part.station, part.function)
        exact = [n for n, floor in numbered if any(_key(h) == key for h in _halves(floor))]
        exact += [n for n, floor in numbered if floor.load and _hangs_on(floor.load, part.ref)]
        return next(iter(exact), None)
    if mark.station in ("load", "branch"):
        loads = [(n, floor.load) for n, floor in numbered if floor.load is not None]
        mine = [n for n, load in loads if mark.function in (load.function, load.carried_by)]
        return mine[-1] if mine else None
    near = [
        n
        for n, floor in numbered
        for half in _halves(floor)
        if half.station == mark.station and mark.function in ("", half.function)
    ]
    return near[-1] if near else None


def _key(half: Half) -> tuple[str, str, str]:
    return half.ref, half.station, half.function


def _hangs_on(load: LoadMark, ref: str) -> bool:
    """Whether a part is the load itself, its branch, or its ground wire."""
    mine = load_ref(load)
    if load.form == "lamp":
        return ref in (mine, f"trailer.lamp.{load.name}.ground")
    return ref in (mine, f"{mine}.ground")


def _halves(floor: Floor) -> tuple[Half, ...]:
    return tuple(half for half in (floor.out, floor.home) if half is not None)
