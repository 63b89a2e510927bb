"""Where everything of the run stands on the page: columns by need, rows by their loads. [mm]"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from loomwright.drawing.function_words import function_words
from loomwright.drawing.ink import BODY_MM, SMALL_MM
from loomwright.drawing.lettering import text_width_mm
from loomwright.drawing.part_names import PartNames
from loomwright.drawing.run_loads import LoadLine, load_columns_mm, load_lines
from loomwright.drawing.run_plan import CONVERTER_ROW, RunPlan
from loomwright.drawing.run_readings import CONVERTER_FEED, Readings
from loomwright.drawing.run_words import StretchWords, run_words, stretch_words

WIDTH_MM = 250.0
MARGIN_MM = 3.0
BATTERY_MM = 12.0
BUS_GAP_MM = 4.0
FUSE_MM = 9.0
JOINT_MM = 11.0
SOCKET_MM = 21.8
SOCKET_HALF_MM = 11.2
PLUG_HALF_MM = 5.6
JUNCTION_MM = 12.8
LEAST_STRETCH_MM = 15.0
LEAST_RUN_MM = 22.0
OWN_LAMPS_MM = 8.6
PAD_MM = 1.2
TITLE_GAP_MM = 2.2
BOX_LEFT_MM = 6.0
BOX_RIGHT_MM = 7.0

HEAD_MM = 27.0
ABOVE_MM = 4.5
BELOW_MM = 4.2
ROW_GAP_MM = 0.9
LOAD_PITCH_MM = 4.6
MARK_MM = 4.8
LANE_MM = 9.4
HATCH_MM = 7.0
FOOT_MM = 7.0


@dataclass(frozen=True, slots=True)
class Column:
    """A part of the page from left to right."""

    left: float
    right: float

    @property
    def middle(self) -> float:
        """Halfway."""
        return (self.left + self.right) / 2


@dataclass(frozen=True, slots=True)
class Columns:
    """Places across the page. `joins` and `leads` are one for each socket of the chain."""

    width: float
    battery: Column
    title_x: float
    fuse_x: float
    feed: Column
    joins: tuple[Column, ...]
    leads: tuple[Column, ...]
    socket: Column
    cord: Column
    junction: Column
    run: Column
    loads: Column

    @property
    def bus(self) -> float:
        """The vertical line from the battery to every fuse."""
        return self.battery.right + BUS_GAP_MM / 2


@dataclass(frozen=True, slots=True)
class Heights:
    """Places down the page.

    `rows` and `lanes` give the height of each supply row's and each return lane's conductor;
    `marks` the height of the line of findings above it ("": above the whole run).
    """

    height: float
    rows: dict[str, float]
    lanes: dict[str, float]
    marks: dict[str, float]
    hatch: float
    foot: float

    @property
    def top(self) -> float:
        """Where the bodies begin that pass all rows."""
        return min(self.rows.values()) - ABOVE_MM - 0.6

    @property
    def bottom(self) -> float:
        """Where the bodies end that pass all rows."""
        return max(self.lanes.values(), default=max(self.rows.values())) + BELOW_MM + 0.6


@dataclass(frozen=True, slots=True)
class Scene:
    """One drawing: what it shows, what is read there, and where everything stands.

    `lines` are the loads of each row; `names` say which part of the circuit a mark is.
    """

    plan: RunPlan
    readings: Readings
    x: Columns
    y: Heights
    lines: dict[str, tuple[LoadLine, ...]]
    names: PartNames


def lay_out(
    plan: RunPlan,
    readings: Readings,
    marked: frozenset[str],
    names: PartNames,
    cord_marks_mm: float = 0.0,
) -> Scene:
    """Return the scene.

    `marked` names the rows and lanes that carry findings; `cord_marks_mm` is the room that those
    of one row need side by side between the plug and the junction. [mm]
    """
    lines = {row: load_lines(plan, readings, plan.loads_of(row)) for row in plan.rows}
    across = _columns(plan, readings, lines, cord_marks_mm)
    return Scene(plan, readings, across, _heights(plan, lines, marked), lines, names)


def _columns(
    plan: RunPlan,
    readings: Readings,
    lines: dict[str, tuple[LoadLine, ...]],
    cord_marks_mm: float,
) -> Columns:
    titles = [title_of(plan, row) for row in plan.rows] + [lane_title(n) for n in plan.returns[:1]]
    title = max(text_width_mm(words, BODY_MM, bold=True) for words in titles)
    first = _box_width(plan) if plan.has_converter else JOINT_MM
    chain = [
        part
        for n in range(len(plan.chain))
        for part in (first if n == 0 else JOINT_MM, _need(_lead_words(plan, readings, n)))
    ]
    loads = load_columns_mm(line for row in lines.values() for line in row)
    widths = [
        title + TITLE_GAP_MM,
        _feed_need(plan, readings),
        *chain,
        SOCKET_MM,
        max(_need(_cord_words(plan, readings)), cord_marks_mm),
        JUNCTION_MM,
        _run_need(plan, readings, lines),
        loads + 1.0,
    ]
    return _place(widths, len(plan.chain))


def _place(widths: list[float], sockets: int) -> Columns:
    start = MARGIN_MM + BATTERY_MM + BUS_GAP_MM
    spare = max(WIDTH_MM - MARGIN_MM - start - sum(widths), 0.0)
    run = 5 + 2 * sockets
    stretches = [1, *(3 + 2 * n for n in range(sockets)), 3 + 2 * sockets]
    for index in stretches:
        widths[index] += 0.6 * spare / len(stretches)
    widths[run] += 0.4 * spare
    columns, x = [], start
    for width in widths:
        columns.append(Column(x, x + width))
        x += width
    return Columns(
        max(WIDTH_MM, x + MARGIN_MM),
        Column(MARGIN_MM, MARGIN_MM + BATTERY_MM),
        columns[0].left,
        columns[0].left + FUSE_MM / 2 + 2.0,
        columns[1],
        tuple(columns[2 : 2 + 2 * sockets : 2]),
        tuple(columns[3 : 2 + 2 * sockets : 2]),
        *columns[2 + 2 * sockets :],
    )


def _heights(
    plan: RunPlan, lines: dict[str, tuple[LoadLine, ...]], marked: frozenset[str]
) -> Heights:
    rows: dict[str, float] = {}
    lanes: dict[str, float] = {}
    marks = {"": HEAD_MM + MARK_MM / 2 - 2.0}
    y = HEAD_MM + (MARK_MM if "" in marked else 0.0)
    for name in (*plan.rows, *plan.returns):
        if name == next(iter(plan.returns), None):
            y += 2.0
        if name in marked:
            marks[name] = y + MARK_MM / 2
            y += MARK_MM
        at = y + ABOVE_MM
        if name in lines:
            rows[name] = at
            y = at + max(BELOW_MM, (len(lines[name]) - 1) * LOAD_PITCH_MM + 2.8) + ROW_GAP_MM
        else:
            lanes[name] = at
            y += LANE_MM
    hatch = y + 1.0
    foot = hatch + HATCH_MM + 2.0
    return Heights(foot + FOOT_MM, rows, lanes, marks, hatch, foot)


def title_of(plan: RunPlan, row: str) -> str:
    """Return the words at the head of a row."""
    if row == CONVERTER_ROW:
        return "converter"
    feed = plan.feeds.get(row)
    return function_words(row if feed is None else feed.function)


def lane_title(lane: str) -> str:
    """Return the words at the head of a return lane."""
    return "← return" if lane == "ground" else f"← {function_words(lane)}"


def feed_ref(plan: RunPlan, row: str) -> str:
    """Return how the readings name the feed wire of a row."""
    return CONVERTER_FEED if row == CONVERTER_ROW else f"vehicle.feed.{plan.feeds[row].function}"


def _feed_need(plan: RunPlan, readings: Readings) -> float:
    """Width a feed needs for its words, and for its own lamps beside the lower line."""
    needs = [LEAST_STRETCH_MM]
    for row, feed in plan.feeds.items():
        words = stretch_words(feed.wire, plan.rig.units, readings.amps(feed_ref(plan, row)))
        own = OWN_LAMPS_MM if feed.lights else 0.0
        needs.append(max(words.above_width, words.below_width + own) + PAD_MM)
    return max(needs)


def _run_need(plan: RunPlan, readings: Readings, lines: dict[str, tuple[LoadLine, ...]]) -> float:
    words = (run_words(plan.rig, row_lines, readings) for row_lines in lines.values() if row_lines)
    return max((each.above_width + 3.0 for each in words), default=LEAST_RUN_MM)


def _lead_words(plan: RunPlan, readings: Readings, number: int) -> list[StretchWords]:
    socket = plan.chain[number]
    ground = stretch_words(
        socket.ground, plan.rig.units, readings.amps(f"socket.{socket.name}.ground")
    )
    return [ground] + [
        stretch_words(
            wire.wire, plan.rig.units, readings.amps(f"socket.{socket.name}.lead.{wire.function}")
        )
        for wire in plan.leads[number]
    ]


def _cord_words(plan: RunPlan, readings: Readings) -> list[StretchWords]:
    return [
        stretch_words(each.wire, plan.rig.units, readings.amps(f"trailer.cord.{each.function}"))
        for each in plan.rig.trailer.cord
    ]


def _box_width(plan: RunPlan) -> float:
    words = (function_words(function) for _, function in plan.outputs)
    widest = max(text_width_mm(word, SMALL_MM, bold=True) for word in words)
    return BOX_LEFT_MM + widest + 4.0 + BOX_RIGHT_MM


def _need(words: Iterable[StretchWords]) -> float:
    widest = max((each.width for each in words), default=0.0)
    return max(widest + 2 * PAD_MM, LEAST_STRETCH_MM)
