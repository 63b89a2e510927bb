"""The way home, drawn as carefully as the way out: rails, ground wires, frame and chassis."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.function_words import function_words
from loomwright.drawing.ink import BODY_MM, INK, LINE_MM, PAPER, SMALL_MM, SOFT_INK, STRONG_MM
from loomwright.drawing.lettering import Label
from loomwright.drawing.run_layout import HATCH_MM, Column, Layout
from loomwright.drawing.run_loads import rail_x
from loomwright.drawing.run_plan import RunPlan
from loomwright.drawing.run_readings import Readings
from loomwright.drawing.run_stations import screw, splice, volts_below
from loomwright.drawing.run_strands import PAD_MM, thickness_mm
from loomwright.drawing.run_words import stretch_words
from loomwright.drawing.shapes import ring, rule
from loomwright.drawing.svg import el
from loomwright.drawing.wires import conductor
from loomwright.electrics.harness import CHASSIS
from loomwright.electrics.mating import junction_node
from loomwright.quantities import show_length
from loomwright.rig.model import GroundMethod, Wire

HATCH_STEP_MM = 2.0
HATCH_DEPTH_MM = 2.2


def rails(plan: RunPlan, layout: Layout) -> Markup:
    """Draw the rail every load of one return hangs on, from the first load to its lane."""
    drawn = Markup("")
    for number, lane in enumerate(plan.returns):
        x = rail_x(layout, number)
        tops = [
            layout.y.rows[row]
            for row, lines in layout.lines.items()
            if any(line.rail == number for line in lines)
        ]
        if tops:
            end = layout.y.hatch if _by_frame(plan, lane) else layout.y.lanes[lane]
            drawn += rule((x, min(tops)), (x, end), line_mm=LINE_MM)
    return drawn


def lane_strands(plan: RunPlan, layout: Layout, readings: Readings, lane: str) -> Markup:
    """Draw one return from the rail back to the chassis, without the bodies it passes."""
    y = layout.y.lanes[lane]
    drawn = _trailer_side(plan, layout, readings, lane, y)
    cord = plan.rig.trailer.cord_wire_for(lane)
    if cord is not None:
        column = Column(layout.x.cord.left - 1.0, layout.x.junction.middle)
        ref = f"trailer.cord.{lane}"
        drawn += _stretch(plan, readings, ref, cord.wire, column, y, layout.x.cord.left)
    return drawn + _vehicle_side(plan, layout, readings, lane, y)


def lane_stations(plan: RunPlan, layout: Layout, readings: Readings, lane: str) -> Markup:
    """Draw what stands on a lane over the bodies: title, screw of the junction, voltages."""
    y = layout.y.lanes[lane]
    words = "return" if lane == "ground" else function_words(lane)
    drawn = Label(words, layout.x.title_x, y - 2.5, BODY_MM, bold=True).svg()
    drawn += screw(layout.x.junction.middle, y)
    return drawn + volts_below(readings.volts(junction_node(lane)), layout.x.junction, y)


def hatches(plan: RunPlan, layout: Layout, readings: Readings) -> Markup:
    """Draw the vehicle's chassis, and the trailer's frame where it carries the return."""
    y = layout.y.hatch
    right = max((x for x, _ in _rings(plan, layout)), default=layout.x.feed.left)
    minus = layout.x.battery.right - 2.4
    drawn = rule((minus, layout.y.bottom), (minus, y), line_mm=STRONG_MM)
    drawn += Markup("").join(_ring(x, top, y) for x, top in _rings(plan, layout))
    drawn += _hatch(layout.x.battery.left, right + 4.0, y)
    volts = readings.volts(CHASSIS)
    words = f"vehicle chassis {volts}".strip()
    drawn += Label(words, layout.x.battery.right + 4.0, y + HATCH_MM - 1.4, SMALL_MM).svg()
    if plan.is_by_frame:
        drawn += _frame(plan, layout)
    return drawn


def _trailer_side(plan: RunPlan, layout: Layout, readings: Readings, lane: str, y: float) -> Markup:
    number = plan.returns.index(lane)
    loads = [line for lines in layout.lines.values() for line in lines if line.rail == number]
    if not loads:
        return Markup("")
    if _by_frame(plan, lane):
        return rule((layout.x.junction.middle, y), (layout.x.junction.middle, layout.y.hatch))
    size = plan.rig.trailer.run.get(lane)
    cord = plan.rig.trailer.cord_wire_for(lane)
    if size is None:
        size = plan.rig.trailer.run["ground"] if cord is None else cord.wire.size
    far_m = max(line.mark.back_m for line in loads)
    wire = Wire(size, far_m)
    column = Column(layout.x.junction.middle, rail_x(layout, number))
    ref = f"trailer.run.{lane}"
    return _stretch(plan, readings, ref, wire, column, y, layout.x.run.left - 0.8)


def _vehicle_side(plan: RunPlan, layout: Layout, readings: Readings, lane: str, y: float) -> Markup:
    drawn = Markup("")
    for stage in reversed(range(len(plan.chain))):
        socket = plan.chain[stage]
        wire = _ground_wire(plan, stage, lane)
        if wire is None:
            return drawn
        last = stage == len(plan.chain) - 1
        right = layout.x.socket.left + 1.0 if last else layout.x.joins[stage + 1].middle
        joint = layout.x.joins[stage]
        ref = f"socket.{socket.name}." + ("ground" if lane == "ground" else f"lead.{lane}")
        column = Column(joint.middle, right)
        drawn += _stretch(plan, readings, ref, wire, column, y, layout.x.leads[stage].left)
        if socket.ground_method is GroundMethod.OWN_RING:
            return drawn
        if stage > 0 or lane == "ground":
            drawn += splice(joint.middle, y)
    if lane != "ground":
        return drawn
    column = Column(layout.x.feed.left - 3.0, layout.x.joins[0].middle)
    ground = plan.rig.vehicle.ground
    strand = _stretch(plan, readings, "vehicle.ground", ground, column, y, layout.x.feed.left - 1.0)
    return strand + drawn


def _ground_wire(plan: RunPlan, stage: int, lane: str) -> Wire | None:
    socket = plan.chain[stage]
    if lane == "ground":
        return socket.ground
    found = socket.wire_for(lane)
    return None if found is None else found.wire


def _rings(plan: RunPlan, layout: Layout) -> list[tuple[float, float]]:
    """Return where each lane's ground wire comes down to the chassis."""
    found = []
    for number, (lane, y) in enumerate(layout.y.lanes.items()):
        stage = len(plan.chain) - 1
        if _ground_wire(plan, stage, lane) is None:
            continue
        while stage > 0 and plan.chain[stage].ground_method is GroundMethod.OLD_WIRE:
            stage -= 1
        own = plan.chain[stage].ground_method is GroundMethod.OWN_RING
        x = layout.x.joins[stage].middle if own or lane != "ground" else layout.x.feed.left - 3.0
        found.append((x - 2.4 * number, y))
    return found


def _ring(x: float, top: float, bottom: float) -> Markup:
    line = rule((x, top), (x, bottom), line_mm=STRONG_MM)
    return line + ring(x, bottom, 1.3, LINE_MM, fill=PAPER) + ring(x, bottom, 0.35, 0.5, fill=INK)


def _frame(plan: RunPlan, layout: Layout) -> Markup:
    y = layout.y.hatch
    left, right = layout.x.junction.middle - 4.0, rail_x(layout, 0) + 4.0
    drawn = _hatch(left, right, y) + _ring(layout.x.junction.middle, layout.y.bottom, y)
    drawn += _ring(rail_x(layout, 0), y - 1.0, y)
    far = show_length(plan.farthest_m, plan.rig.units)
    words = f"trailer frame carries the return, {far}"
    return drawn + Label(words, left, y + HATCH_MM - 1.4, SMALL_MM).svg()


def _by_frame(plan: RunPlan, lane: str) -> bool:
    return plan.is_by_frame and lane == "ground"


def _hatch(left: float, right: float, y: float) -> Markup:
    steps = int((right - left) / HATCH_STEP_MM)
    strokes = "".join(
        f"M{left + HATCH_STEP_MM * n + 1.6:.2f} {y:.2f} l-1.6 {HATCH_DEPTH_MM} "
        for n in range(steps)
    )
    hatch = el("path", d=strokes.strip(), fill="none", stroke=SOFT_INK, stroke_width=0.25)
    return hatch + rule((left, y), (right, y), line_mm=STRONG_MM)


def _stretch(
    plan: RunPlan,
    readings: Readings,
    ref: str,
    wire: Wire,
    column: Column,
    y: float,
    words_left: float,
) -> Markup:
    thick = thickness_mm(readings.is_live(ref))
    drawn = conductor(((column.left, y), (column.right, y)), wire.colour, thick)
    return drawn + stretch_words(wire, plan.rig.units, readings.amps(ref)).svg(
        words_left + PAD_MM, y
    )
