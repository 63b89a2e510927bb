"""The run: battery at one end, farthest lamp at the other, every conductor as it looks."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from loomwright.drawing.lettering import Box
from loomwright.drawing.part_names import part_names
from loomwright.drawing.run_head import NAMES_MM, foot, head
from loomwright.drawing.run_layout import (
    ABOVE_MM,
    BELOW_MM,
    Column,
    Scene,
    feed_ref,
    lay_out,
    title_of,
)
from loomwright.drawing.run_marks import (
    FindingMark,
    Mark,
    PartMark,
    cord_marks_mm,
    finding_marks,
    row_of_mark,
)
from loomwright.drawing.run_plan import CONVERTER_ROW, Link, plan_run, row_of
from loomwright.drawing.run_readings import RETURN_SHOWN_FROM_V, SHOWN_FROM_V, readings_of
from loomwright.drawing.run_returns import hatches, lane_stations, lane_strands, rails, ties
from loomwright.drawing.run_stations import (
    battery,
    body_pair,
    converter,
    fuse,
    halves,
    junction,
    mated,
    pin_number,
    screw,
    splice,
    volts_below,
)
from loomwright.drawing.run_strands import (
    cord_strand,
    feed_strand,
    lead_strand,
    link_strand,
    open_end,
    row_title,
)
from loomwright.drawing.run_tree import run_tree
from loomwright.drawing.svg import document
from loomwright.electrics.answers import CommandAnswer
from loomwright.electrics.mating import junction_node
from loomwright.electrics.sockets import is_return, pin_node, pins_of
from loomwright.electrics.vehicle_side import feed_node
from loomwright.rig.model import Rig

__all__ = ["FindingMark", "PartMark", "run_drawing"]


def run_drawing(
    rig: Rig,
    answer: CommandAnswer | None = None,
    findings: Iterable[FindingMark | PartMark] = (),
    heading: str = "",
    link: str = "",
    *,
    is_bare: bool = False,
) -> str:
    """Return the drawing of a whole rig.

    Parameters
    ----------
    rig : Rig
        What is drawn.
    answer : CommandAnswer or None
        Readings of one command: live conductors thicken and carry their numbers, lamps glow.
        None draws the wiring alone.
    findings : iterable of (station, function, code, severity word)
        Marks to place where they occur, with the element of their part where it is known; a
        function of "" means the whole station.
    heading : str
        Words of the command; left out, they are taken from the answer.
    link : str
        Address behind each part, with ``{part}`` where its element goes.
    is_bare : bool
        Leave out the names at the top, for a page that says them itself.

    Returns
    -------
    str
        SVG, 250 mm wide, or wider where the rig has more stations than fit.
    """
    plan = plan_run(rig)
    marks = [Mark(*finding) for finding in findings]
    marked = frozenset(row_of_mark(plan, mark) for mark in marks)
    names, room = part_names(rig, link=link), cord_marks_mm(plan, marks)
    scene = lay_out(plan, readings_of(plan, answer), marked, names, room)
    words = heading or _heading(answer)
    return document(
        scene.x.width,
        scene.y.height,
        head(scene, "" if is_bare else words),
        rails(scene),
        _strands(scene),
        _bodies(scene),
        ties(scene),
        hatches(scene),
        finding_marks(scene, marks),
        foot(scene),
        title=f"The run of {rig.name}",
        says=_says(scene, words),
        role="group" if link else "img",
        top_mm=NAMES_MM if is_bare else 0.0,
    )


def _heading(answer: CommandAnswer | None) -> str:
    if answer is None:
        return "wiring"
    return answer.command.replace("_", " ").replace("+", " and ")


def _says(scene: Scene, words: str) -> str:
    circuits = ", ".join(title_of(scene.plan, row) for row in scene.plan.rows)
    return (
        f"{words}: {circuits}, from the battery of {scene.plan.rig.vehicle.name} "
        f"to the loads of {scene.plan.rig.trailer.name} and back."
    )


def _strands(scene: Scene) -> Markup:
    drawn = [lane_strands(scene, lane) for lane in scene.plan.returns]
    drawn += [feed_strand(scene, row) for row in scene.plan.feeds]
    for stage, lead in enumerate(scene.plan.leads):
        drawn += [_join(scene, stage)]
        drawn += [lead_strand(scene, stage, wire) for wire in lead]
    drawn += [cord_strand(scene, wire) for wire in scene.plan.cord]
    rows = dict.fromkeys(row_of(wire.function) for wire in scene.plan.cord)
    drawn += [run_tree(scene, row) for row in rows]
    return Markup("\n").join(drawn)


def _join(scene: Scene, stage: int) -> Markup:
    """Draw the joints in front of one lead, and the conductors that end there unjoined."""
    drawn, column = Markup(""), scene.x.joins[stage]
    for link in _spliced(scene, stage):
        strands, x, y = link_strand(scene, stage, link)
        ref = f"socket.{scene.plan.chain[stage].name}.lead.{link.function}"
        part = scene.names.element(ref, "joint", link.function)
        spot = Box(column.left, y - ABOVE_MM, column.right, y + BELOW_MM)
        drawn += strands + scene.names.placed(splice(x, y), part, spot)
    joined = {link.function for link in scene.plan.joins[stage]}
    for wire in scene.plan.leads[stage]:
        if wire.function not in joined:
            drawn += open_end(column.right, scene.y.rows[row_of(wire.function)])
    return drawn + (_feed_ends(scene) if stage == 0 else "")


def _spliced(scene: Scene, stage: int) -> list[Link]:
    """Return the joints in front of a lead, without those inside the converter's box."""
    made = {function for _, function in scene.plan.outputs} if stage == 0 else set()
    return [link for link in scene.plan.joins[stage] if link.function not in made]


def _feed_ends(scene: Scene) -> Markup:
    """Write the voltage where each feed is joined, and mark the feeds that nothing takes up."""
    drawn, column = Markup(""), scene.x.joins[0]
    stages = range(len(scene.plan.chain))
    linked = {link.start for n in stages for link in _spliced(scene, n) if link.from_feed}
    for row, feed in scene.plan.feeds.items():
        y = scene.y.rows[row]
        if row in linked:
            volts = scene.readings.volts(feed_node(feed.function))
            live = scene.readings.is_live(feed_ref(scene.plan, row))
            drawn += volts_below(volts, column, y, is_live=live)
        elif feed.function not in scene.plan.inputs and row != CONVERTER_ROW:
            drawn += open_end(column.left, y)
    return drawn


def _bodies(scene: Scene) -> Markup:
    x, names = scene.x, scene.names
    case = Box(x.battery.left, scene.y.top, x.battery.right, scene.y.bottom)
    supply = names.placed(battery(scene), names.element("vehicle.supply", "battery"), case)
    drawn = [supply, body_pair(scene), junction(scene)]
    if scene.plan.has_converter:
        box = names.element("converter.ground", "converter")
        drawn.append(names.placed(converter(scene), box))
    for row in scene.plan.feeds:
        part, y = names.element(feed_ref(scene.plan, row), "fuse"), scene.y.rows[row]
        spot = Box(x.fuse_x - 6.0, y - ABOVE_MM, x.fuse_x + 6.0, y + BELOW_MM)
        drawn.append(names.placed(fuse(scene, row), part, spot))
    drawn += [row_title(scene, row, title_of(scene.plan, row)) for row in scene.plan.rows]
    drawn += [_pins(scene)]
    for wire in scene.plan.cord:
        y = scene.y.rows[row_of(wire.function)]
        volts = scene.readings.volts(junction_node(wire.function))
        live = scene.readings.is_live(f"trailer.cord.{wire.function}")
        marks = screw(x.junction.middle, y) + volts_below(volts, x.junction, y, is_live=live)
        part = names.element("trailer.junction", "junction", wire.function)
        drawn.append(names.placed(marks, part, _spot(x.junction, y)))
    drawn += [lane_stations(scene, lane) for lane in scene.plan.returns]
    return Markup("\n").join(drawn)


def _pins(scene: Scene) -> Markup:
    """Draw the pins of both halves, the contacts between them, and the voltage at the socket."""
    heights = {**scene.y.rows, **scene.y.lanes}
    socket = scene.plan.rig.towing_socket
    near, far = halves(scene)
    drawn = Markup("")
    for link in scene.plan.mates:
        drawn += mated(scene, heights[link.start], heights[link.end])
    for wire in pins_of(socket):
        y = heights.get(row_of(wire.function))
        if y is None:
            continue
        least_v = RETURN_SHOWN_FROM_V if is_return(wire.function) else SHOWN_FROM_V
        volts = scene.readings.volts(pin_node(socket, wire.pin, wire.function), least_v)
        ref = "ground" if wire.function == "ground" else f"lead.{wire.function}"
        live = scene.readings.is_live(f"socket.{socket.name}.{ref}")
        marks = pin_number(wire.pin, near, y) + volts_below(volts, near, y, is_live=live)
        part = scene.names.element(f"socket.{socket.name}.pin.{wire.pin}", "socket")
        drawn += scene.names.placed(marks, part, _spot(near, y))
    met = {link.pin for link in scene.plan.mates}
    for wire in scene.plan.rig.trailer.cord:
        y = heights[row_of(wire.function)]
        part = scene.names.element(f"trailer.plug.{wire.pin}", "plug")
        drawn += scene.names.placed(pin_number(wire.pin, far, y), part, _spot(far, y))
        drawn += Markup("") if wire.pin in met else open_end(far.left, y)
    return drawn


def _spot(column: Column, y: float) -> Box:
    return Box(column.left, y - ABOVE_MM, column.right, y + BELOW_MM)
