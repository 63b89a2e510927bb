"""The way home, drawn as carefully as the way out: rails, ground wires, frame and chassis."""

from __future__ import annotations

from markupsafe import Markup

from loomwright.drawing.ink import BODY_MM, INK, LINE_MM, PAPER, SMALL_MM, SOFT_INK, STRONG_MM
from loomwright.drawing.lettering import Box, Label
from loomwright.drawing.run_layout import HATCH_MM, Column, Scene, lane_title
from loomwright.drawing.run_load_marks import rail_x
from loomwright.drawing.run_readings import RETURN_SHOWN_FROM_V
from loomwright.drawing.run_stations import screw, splice, volts_below
from loomwright.drawing.run_strands import PAD_MM, TITLE_MM, TOUCH_MM, Stretch, stretch
from loomwright.drawing.shapes import ring, rule
from loomwright.drawing.svg import el
from loomwright.electrics.harness import CHASSIS
from loomwright.electrics.mating import junction_node
from loomwright.quantities import show_length
from loomwright.rig.model import GroundMethod, Wire

HATCH_STEP_MM = 2.0
HATCH_DEPTH_MM = 2.2
RING_STEP_MM = 3.0


def rails(scene: Scene) -> Markup:
    """Draw the rail every load of one return hangs on, from the first load to its lane."""
    drawn = Markup("")
    for number, lane in enumerate(scene.plan.returns):
        x = rail_x(scene, number)
        tops = [
            scene.y.rows[row]
            for row, lines in scene.lines.items()
            if any(line.rail == number for line in lines)
        ]
        if tops:
            end = scene.y.hatch if _by_frame(scene, lane) else scene.y.lanes[lane]
            drawn += rule((x, min(tops)), (x, end), line_mm=LINE_MM)
    return drawn


def ties(scene: Scene) -> Markup:
    """Draw the link between returns that somebody has joined at the junction."""
    x, lanes = scene.x.junction.middle, scene.y.lanes
    drawn = Markup("")
    for group in _tied(scene):
        heights = sorted(lanes[name] for name in group if name in lanes)
        if len(heights) > 1:
            drawn += rule((x - 3.4, heights[0]), (x - 3.4, heights[-1]), line_mm=STRONG_MM)
            drawn += Markup("").join(rule((x - 3.4, y), (x, y), line_mm=STRONG_MM) for y in heights)
    return drawn


def lane_strands(scene: Scene, lane: str) -> Markup:
    """Draw one return from the rail back to the chassis, without the bodies it passes."""
    y = scene.y.lanes[lane]
    drawn = _trailer_side(scene, lane, y)
    cord = scene.plan.rig.trailer.cord_wire_for(lane)
    if cord is not None:
        span = Column(scene.x.cord.left - 1.0, scene.x.junction.middle)
        place = Stretch(
            f"trailer.cord.{lane}", "cord", span, scene.x.cord.left + PAD_MM, is_home=True
        )
        drawn += stretch(scene, place, cord.wire, y)
    return drawn + _vehicle_side(scene, lane, y)


def lane_stations(scene: Scene, lane: str) -> Markup:
    """Draw what stands on a lane over the bodies: title, screw of the junction, voltages."""
    y = scene.y.lanes[lane]
    drawn = Label(lane_title(lane), scene.x.title_x, y - TITLE_MM, BODY_MM, bold=True).svg()
    drawn += _junction_screw(scene, lane, y)
    if any(lane in group and lane != _last(scene, group) for group in _tied(scene)):
        return drawn
    volts = scene.readings.volts(junction_node(lane), RETURN_SHOWN_FROM_V)
    live = scene.readings.is_live(f"trailer.cord.{lane}")
    return drawn + volts_below(volts, scene.x.junction, y, is_live=live)


def hatches(scene: Scene) -> Markup:
    """Draw the vehicle's chassis, and the trailer's frame where it carries the return."""
    y = scene.y.hatch
    right = max((x for x, _ in _rings(scene)), default=scene.x.feed.left)
    minus = scene.x.battery.right - 2.4
    drawn = rule((minus, scene.y.bottom), (minus, y), line_mm=STRONG_MM)
    drawn += Markup("").join(_ring(x, top, y) for x, top in _rings(scene))
    drawn += _hatch(scene.x.battery.left, right + 4.0, y)
    volts = scene.readings.volts(CHASSIS, RETURN_SHOWN_FROM_V)
    words = f"vehicle chassis {volts}".strip()
    label = Label(words, scene.x.battery.right + 4.0, y + HATCH_MM - 1.4, SMALL_MM)
    part = scene.names.element("vehicle.chassis", "chassis")
    spot = Box(scene.x.battery.left, y, label.box.right, y + HATCH_MM)
    drawn += scene.names.placed(label.svg(), part, spot)
    if scene.plan.is_by_frame:
        drawn += _frame(scene)
    if scene.plan.rig.trailer.hitch_path_ohm is not None:
        drawn += _hitch(scene, right + 4.0)
    return drawn


def _trailer_side(scene: Scene, lane: str, y: float) -> Markup:
    number = scene.plan.returns.index(lane)
    loads = [line for lines in scene.lines.values() for line in lines if line.rail == number]
    if not loads:
        return Markup("")
    if _by_frame(scene, lane):
        return rule((scene.x.junction.middle, y), (scene.x.junction.middle, scene.y.hatch))
    size = scene.plan.rig.trailer.run.get(lane)
    cord = scene.plan.rig.trailer.cord_wire_for(lane)
    if size is None:
        size = scene.plan.rig.trailer.run["ground"] if cord is None else cord.wire.size
    far_m = max(line.mark.back_m for line in loads)
    wire = Wire(size, far_m)
    column = Column(scene.x.junction.middle, rail_x(scene, number))
    place = Stretch(f"trailer.run.{lane}", "run", column, scene.x.run.left + 0.6, is_home=True)
    return stretch(scene, place, wire, y)


def _vehicle_side(scene: Scene, lane: str, y: float) -> Markup:
    drawn, barrels = Markup(""), Markup("")
    for stage in reversed(range(len(scene.plan.chain))):
        wire = _ground_wire(scene, stage, lane)
        if wire is None:
            return drawn + barrels
        drawn += _lead_ground(scene, lane, stage, wire)
        if scene.plan.chain[stage].ground_method is GroundMethod.OWN_RING:
            return drawn + barrels
        if stage > 0 or lane == "ground":
            barrels += _home_barrel(scene, stage, lane, y)
    if lane == "ground":
        span = Column(scene.x.feed.left - 3.0, scene.x.joins[0].middle)
        ground = scene.plan.rig.vehicle.ground
        place = Stretch("vehicle.ground", "chassis", span, scene.x.feed.left, is_home=True)
        drawn += stretch(scene, place, ground, y)
    return drawn + barrels


def _lead_ground(scene: Scene, lane: str, stage: int, wire: Wire) -> Markup:
    """Draw one return of one lead, from its ring or joint to the next socket."""
    socket, joint = scene.plan.chain[stage], scene.x.joins[stage]
    last = stage == len(scene.plan.chain) - 1
    right = scene.x.socket.left + 1.0 if last else scene.x.joins[stage + 1].middle
    own = socket.ground_method is GroundMethod.OWN_RING
    span = Column(joint.middle - (_stagger(scene, lane) if own else 0.0), right)
    ref = f"socket.{socket.name}." + ("ground" if lane == "ground" else f"lead.{lane}")
    place = Stretch(ref, "lead", span, scene.x.leads[stage].left + PAD_MM, is_home=True)
    return stretch(scene, place, wire, scene.y.lanes[lane])


def _home_barrel(scene: Scene, stage: int, lane: str, y: float) -> Markup:
    """Draw the joint of a lead's return into the old wire."""
    column = scene.x.joins[stage]
    ref = f"socket.{scene.plan.chain[stage].name}." + (
        "ground" if lane == "ground" else f"lead.{lane}"
    )
    spot = Box(column.left, y - TOUCH_MM, column.right, y + TOUCH_MM)
    return scene.names.placed(splice(column.middle, y), scene.names.element(ref, "joint"), spot)


def _junction_screw(scene: Scene, lane: str, y: float) -> Markup:
    column = scene.x.junction
    part = scene.names.element("trailer.junction", "junction", lane)
    spot = Box(column.left, y - TOUCH_MM, column.right, y + TOUCH_MM)
    return scene.names.placed(screw(column.middle, y), part, spot)


def _ground_wire(scene: Scene, stage: int, lane: str) -> Wire | None:
    socket = scene.plan.chain[stage]
    if lane == "ground":
        return socket.ground
    found = socket.wire_for(lane)
    return None if found is None else found.wire


def _rings(scene: Scene) -> list[tuple[float, float]]:
    """Return where each lane's ground wire comes down to the chassis."""
    found = []
    for lane, y in scene.y.lanes.items():
        stage = len(scene.plan.chain) - 1
        if _ground_wire(scene, stage, lane) is None:
            continue
        while stage > 0 and scene.plan.chain[stage].ground_method is GroundMethod.OLD_WIRE:
            stage -= 1
        own = scene.plan.chain[stage].ground_method is GroundMethod.OWN_RING
        x = scene.x.joins[stage].middle if own or lane != "ground" else scene.x.feed.left - 3.0
        found.append((x - _stagger(scene, lane), y))
    return found


def _stagger(scene: Scene, lane: str) -> float:
    """Distance by which an upper lane's wire passes the ends of those below it. [mm]"""
    return RING_STEP_MM * (len(scene.plan.returns) - 1 - scene.plan.returns.index(lane))


def _ring(x: float, top: float, bottom: float) -> Markup:
    line = rule((x, top), (x, bottom), line_mm=STRONG_MM)
    return line + ring(x, bottom, 1.3, LINE_MM, fill=PAPER) + ring(x, bottom, 0.35, 0.5, fill=INK)


def _frame(scene: Scene) -> Markup:
    y = scene.y.hatch
    left, right = scene.x.junction.middle - 4.0, rail_x(scene, 0) + 4.0
    drawn = _hatch(left, right, y) + _ring(scene.x.junction.middle, scene.y.bottom, y)
    drawn += _ring(rail_x(scene, 0), y - 1.0, y)
    far = show_length(scene.plan.farthest_m, scene.plan.rig.units)
    words = f"trailer frame carries the return, {far}"
    label = Label(words, left, y + HATCH_MM - 1.4, SMALL_MM)
    part = scene.names.element("trailer.frame", "run")
    return drawn + scene.names.placed(label.svg(), part, Box(left, y, right, y + HATCH_MM))


def _hitch(scene: Scene, left: float) -> Markup:
    y, right = scene.y.hatch, scene.x.junction.middle - 4.0
    words = Label("ball and chains", (left + right) / 2, y + 3.6, SMALL_MM, anchor="middle")
    return rule((left, y), (right, y), dash="1.4 1.4") + words.svg()


def _tied(scene: Scene) -> tuple[tuple[str, ...], ...]:
    return scene.plan.rig.trailer.joined_returns


def _last(scene: Scene, group: tuple[str, ...]) -> str:
    """Return the lowest lane of a group: their common voltage stands below it."""
    return max(group, key=lambda name: scene.y.lanes.get(name, 0.0))


def _by_frame(scene: Scene, lane: str) -> bool:
    return scene.plan.is_by_frame and lane == "ground"


def _hatch(left: float, right: float, y: float) -> Markup:
    steps = int((right - left) / HATCH_STEP_MM)
    strokes = "".join(
        f"M{left + HATCH_STEP_MM * n + 1.6:.2f} {y:.2f} l-1.6 {HATCH_DEPTH_MM} "
        for n in range(steps)
    )
    hatch = el("path", d=strokes.strip(), fill="none", stroke=SOFT_INK, stroke_width=0.25)
    return hatch + rule((left, y), (right, y), line_mm=STRONG_MM)
