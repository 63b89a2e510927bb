"""One circuit of the run folded for a narrow page: floors, from the battery down to its loads.

On every floor the way out stands on the left and the way home on the right, so that a socket's
two pins, or the two ends of a lead, are seen side by side.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from loomwright.drawing.function_words import function_words
from loomwright.drawing.run_layout import title_of
from loomwright.drawing.run_plan import CONVERTER_ROW, Link, LoadMark, RunPlan, row_of
from loomwright.drawing.run_readings import CONVERTER_FEED
from loomwright.electrics.boxes import output_node
from loomwright.electrics.harness import CHASSIS
from loomwright.electrics.mating import junction_node, return_of
from loomwright.electrics.sockets import lead_end, pin_node, pins_of
from loomwright.electrics.vehicle_side import VEHICLE_GROUND, feed_node
from loomwright.quantities import WireSize
from loomwright.rig.model import Feed, FuseHolder, GroundMethod, PinWire, Socket, Wire

Form = Literal["wire", "joint", "pin", "screw", "fuse", "ring", "body", "box", "open", "through"]
FloorKind = Literal["battery", "stretch", "station", "socket", "plug", "load"]
BODY = "chassis"
FRAME = "frame"


@dataclass(frozen=True, slots=True)
class Half:
    """One side of a floor: a piece of conductor, or what it passes through there.

    `ref`, `station` and `function` say which part of the circuit it is; `node` is where its
    voltage is read. A ``body`` is the vehicle's chassis or the trailer's frame (see `says`).
    """

    form: Form
    ref: str = ""
    station: str = ""
    function: str = ""
    wire: Wire | None = None
    says: str = ""
    node: str = ""
    fuse: FuseHolder | None = None
    lamps: Feed | None = None


@dataclass(frozen=True, slots=True)
class Floor:
    """A floor of the folded run; either side may be empty."""

    kind: FloorKind
    out: Half | None = None
    home: Half | None = None
    title: str = ""
    load: LoadMark | None = None


@dataclass(frozen=True, slots=True)
class Circuit:
    """One circuit of the run. `floors` are in order from the battery; `ref` tells its current."""

    row: str
    title: str
    floors: tuple[Floor, ...]
    ref: str
    by_frame: bool


@dataclass(frozen=True, slots=True)
class _Way:
    """What a circuit passes on its way out: functions, None where it does not pass."""

    feed: str | None
    joins: tuple[Link | None, ...]
    leads: tuple[PinWire | None, ...]
    cord: PinWire | None
    meets: bool


@dataclass(frozen=True, slots=True)
class _Home:
    """The way home: its function, the socket at whose joint it meets the chassis, its wires.

    `ring` is -1 for the vehicle's own ground wire; `wires` are by the number of the socket.
    """

    lane: str
    ring: int
    wires: Mapping[int, Wire]

    def ref(self, socket: Socket) -> str:
        """How the circuit refers to the wire behind a socket."""
        return f"socket.{socket.name}." + (
            "ground" if self.lane == "ground" else f"lead.{self.lane}"
        )


def circuits(plan: RunPlan) -> tuple[str, ...]:
    """Return the rows that are circuits of their own, in the order of the run.

    A feed that goes on under another name belongs to the circuit of that name.
    """
    taken = {link.start for links in plan.joins for link in links if link.start != link.end}
    ends = {row_of(wire.function) for wire in (*plan.cord, *(w for le in plan.leads for w in le))}
    return tuple(row for row in plan.rows if row in ends or row not in taken)


def fold(plan: RunPlan, row: str) -> Circuit:
    """Return one circuit of the run.

    Parameters
    ----------
    plan : RunPlan
        The run.
    row : str
        One of `circuits`.
    """
    way = _way(plan, row)
    lane = _lane(plan, way.cord)
    by_frame = plan.is_by_frame and lane == "ground"
    floors = [*_vehicle(plan, way, lane)]
    if way.leads[-1] is not None or way.cord is not None:
        floors += _plugged(plan, way, lane)
        floors += _trailer(plan, row, way, lane)
    title = title_of(plan, row) if way.cord is None else function_words(way.cord.function)
    return Circuit(row, title, tuple(floors), _told_by(plan, way, row), by_frame)


def _told_by(plan: RunPlan, way: _Way, row: str) -> str:
    """Return the conductor whose current stands for the whole circuit: the cord's, or the feed."""
    if way.cord is not None:
        return f"trailer.cord.{way.cord.function}"
    return _feed_ref(plan, way.feed or row)


def _feed_ref(plan: RunPlan, row: str) -> str:
    if row == CONVERTER_ROW:
        return CONVERTER_FEED
    feed = plan.feeds.get(row)
    return "" if feed is None else f"vehicle.feed.{feed.function}"


def _way(plan: RunPlan, row: str) -> _Way:
    """Follow a circuit back from its cord, or its lead, to the feed."""
    cord = next((wire for wire in plan.cord if row_of(wire.function) == row), None)
    met = next((link for link in plan.mates if cord and link.end == row), None)
    at = row if cord is None else (met.start if met else None)
    stages = len(plan.chain)
    joins: list[Link | None] = [None] * stages
    leads: list[PinWire | None] = [None] * stages
    for stage in reversed(range(stages)):
        if at is None:
            break
        leads[stage] = next((w for w in plan.leads[stage] if row_of(w.function) == at), None)
        link = next((each for each in plan.joins[stage] if each.end == at), None)
        joins[stage] = link
        if link is None and leads[stage] is not None:
            at = None
        elif link is not None:
            at = link.start
            if link.from_feed:
                break
    known = at is not None and (at in plan.feeds or at in {out for out, _ in plan.outputs})
    return _Way(at if known else None, tuple(joins), tuple(leads), cord, met is not None)


def _lane(plan: RunPlan, cord: PinWire | None) -> str:
    lane = "ground" if cord is None else return_of(plan.rig, cord.function)
    return lane if lane in plan.returns else "ground"


def _vehicle(plan: RunPlan, way: _Way, lane: str) -> Iterator[Floor]:
    """Yield the floors from the battery to the last lead."""
    home = _home(plan, lane)
    feed = None if way.feed is None else plan.feeds.get(way.feed)
    ref, old = _feed_ref(plan, way.feed or ""), home.ring < 0
    plus = Half("box", "vehicle.supply", "battery", "battery") if feed is not None else None
    yield Floor("battery", plus, Half("box", "vehicle.chassis", "chassis", "ground"))
    if old or (feed is not None and feed.fuse is not None):
        half = None
        if feed is not None:
            form: Form = "through" if feed.fuse is None else "fuse"
            half = Half(form, ref, "fuse", feed.function, feed.wire, fuse=feed.fuse)
        yield Floor("station", half, _old_ring() if old else _chassis(), "fuse")
    if old or feed is not None:
        half = None
        if feed is not None:
            half = Half("wire", ref, "feed", feed.function, feed.wire, lamps=feed)
        yield Floor("stretch", half, _vehicle_ground(plan) if old else _chassis(), "feed")
    yield from _box(plan, way)
    is_end = all(lead is None for lead in way.leads)
    if is_end:
        if way.feed is not None and way.feed not in _into_box(plan):
            yield Floor("station", Half("open", says="taken up by nothing"), None, "end")
        return
    for stage in range(len(plan.chain)):
        yield from _stage(plan, way, home, stage)


def _chassis() -> Half:
    return Half("body", "vehicle.chassis", "chassis", "ground", says=BODY)


def _old_ring() -> Half:
    return Half("ring", "vehicle.ground", "chassis", "ground", says=BODY, node=CHASSIS)


def _vehicle_ground(plan: RunPlan) -> Half:
    wire = plan.rig.vehicle.ground
    return Half("wire", "vehicle.ground", "chassis", "ground", wire)


def _into_box(plan: RunPlan) -> set[str]:
    if not plan.has_converter:
        return set()
    return {row_of(each) for each in plan.inputs} | {CONVERTER_ROW}


def _box(plan: RunPlan, way: _Way) -> Iterator[Floor]:
    """Yield the converter's floor, where the circuit passes it or ends in it."""
    if way.feed is None or way.feed not in _into_box(plan) | {r for r, _ in plan.outputs}:
        return
    given = [out for row, out in plan.outputs if row == way.feed]
    if given and way.leads[0] is not None:
        out = given[0]
        half = Half("box", f"converter.channel.{out}", "converter", out, node=output_node(out))
    elif way.feed == CONVERTER_ROW:
        half = Half("box", "converter.ground", "converter", "ground")
    else:
        function = plan.feeds[way.feed].function
        half = Half("box", f"converter.input.{function}", "converter", function)
    yield Floor("station", half, _chassis(), "converter")


def _stage(plan: RunPlan, way: _Way, home: _Home, stage: int) -> Iterator[Floor]:
    """Yield the joint and the lead of one socket."""
    socket, link, wire = plan.chain[stage], way.joins[stage], way.leads[stage]
    out_joint, out_lead = Half("through"), Half("through")
    if wire is not None:
        ref = f"socket.{socket.name}.lead.{wire.function}"
        node = _joint_node(plan, way, stage)
        joined = Half("joint", ref, "joint", wire.function, says=socket.joint, node=node)
        out_joint = joined if link is not None else Half("open", says="joined to nothing")
        out_lead = Half("wire", ref, "lead", wire.function, wire.wire)
    yield Floor("station", out_joint, _home_joint(plan, home, stage), "joint")
    back = _chassis()
    if stage in home.wires:
        back = Half("wire", home.ref(socket), "lead", home.lane, home.wires[stage])
    yield Floor("stretch", out_lead, back, f"lead of {socket.name}")


def _joint_node(plan: RunPlan, way: _Way, stage: int) -> str:
    link = way.joins[stage]
    if link is None:
        return ""
    if link.from_feed:
        feed = plan.feeds.get(link.start)
        made = stage == 0 and link.function in {out for _, out in plan.outputs}
        return "" if feed is None or made else feed_node(feed.function)
    before = way.leads[stage - 1]
    return "" if before is None else lead_end(plan.chain[stage - 1], before.function)


def _home(plan: RunPlan, lane: str) -> _Home:
    """Follow the way home from the socket to the chassis."""
    wires: dict[int, Wire] = {}
    for stage in reversed(range(len(plan.chain))):
        socket = plan.chain[stage]
        found = socket.wire_for(lane)
        wire = socket.ground if lane == "ground" else (None if found is None else found.wire)
        if wire is None:
            return _Home(lane, stage + 1, wires)
        wires[stage] = wire
        if socket.ground_method is GroundMethod.OWN_RING:
            return _Home(lane, stage, wires)
    return _Home(lane, -1 if lane == "ground" else 0, wires)


def _home_joint(plan: RunPlan, home: _Home, stage: int) -> Half:
    ref, lane = home.ref(plan.chain[stage]), home.lane
    if stage == home.ring:
        return Half("ring", ref, "chassis", lane, says=BODY, node=CHASSIS)
    if stage not in home.wires:
        return _chassis()
    node = VEHICLE_GROUND if stage == 0 else lead_end(plan.chain[stage - 1], lane)
    return Half("joint", ref, "joint", lane, says=plan.chain[stage].joint, node=node)


def _plugged(plan: RunPlan, way: _Way, lane: str) -> Iterator[Floor]:
    """Yield socket and plug."""
    socket, trailer = plan.chain[-1], plan.rig.trailer
    wired = {wire.function: wire for wire in pins_of(socket)}
    lead = way.leads[-1]
    out = None if lead is None else wired.get(lead.function)
    home = _socket_lane(plan, lane)
    yield Floor(
        "socket",
        _pin(plan, None if out is None else out),
        _pin(plan, wired.get(home) if home else None),
        f"{socket.connector} socket",
    )
    yield Floor(
        "plug",
        _plug_pin(way.cord, meets=way.meets),
        _plug_pin(trailer.cord_wire_for(lane), meets=home is not None),
        f"{trailer.plug} plug",
    )


def _socket_lane(plan: RunPlan, lane: str) -> str | None:
    """Return the function of the socket pin that meets the plug's return."""
    return next((link.start for link in plan.mates if link.end == lane), None)


def _pin(plan: RunPlan, wire: PinWire | None) -> Half | None:
    if wire is None:
        return None
    socket = plan.chain[-1]
    node = pin_node(socket, wire.pin, wire.function)
    ref = f"socket.{socket.name}.pin.{wire.pin}"
    return Half("pin", ref, "socket", wire.function, says=wire.pin, node=node)


def _plug_pin(wire: PinWire | None, *, meets: bool) -> Half | None:
    if wire is None:
        return None
    half = Half("pin", f"trailer.plug.{wire.pin}", "plug", wire.function, says=wire.pin)
    return half if meets else replace(half, form="open")


def _trailer(plan: RunPlan, row: str, way: _Way, lane: str) -> Iterator[Floor]:
    """Yield cord, junction, run, and the loads from the nearest to the farthest."""
    trailer, by_frame = plan.rig.trailer, plan.is_by_frame and lane == "ground"
    if way.cord is None:
        return
    function, back = way.cord.function, trailer.cord_wire_for(lane)
    home = None
    if back is not None:
        home = Half("wire", f"trailer.cord.{lane}", "cord", lane, back.wire)
    out = Half("wire", f"trailer.cord.{function}", "cord", function, way.cord.wire)
    yield Floor("stretch", out, home, "cord")
    yield Floor(
        "station",
        Half("screw", "trailer.junction", "junction", function, node=junction_node(function)),
        _home_junction(lane, by_frame=by_frame) if back is not None else None,
        trailer.junction.replace("-", " "),
    )
    loads = tuple(reversed(plan.loads_of(row)))
    if not loads:
        yield Floor("station", Half("open", says="no load"), None, "end")
        return
    far_m = loads[-1].back_m
    yield Floor("stretch", _run(plan, loads[0].carried_by, far_m), _run_home(plan, lane, far_m))
    for load in loads:
        yield Floor("load", load=load, home=Half("body", says=FRAME) if by_frame else None)


def _home_junction(lane: str, *, by_frame: bool) -> Half:
    node = junction_node(lane)
    if by_frame:
        return Half("ring", "trailer.frame", "junction", "ground", says=FRAME, node=node)
    return Half("screw", "trailer.junction", "junction", lane, node=node)


def _run(plan: RunPlan, function: str, far_m: float) -> Half:
    size = plan.rig.trailer.run.get(function) or _cord_size(plan, function)
    return Half("wire", f"trailer.run.{function}", "run", function, Wire(size, far_m))


def _run_home(plan: RunPlan, lane: str, far_m: float) -> Half:
    if plan.is_by_frame and lane == "ground":
        return Half("body", "trailer.frame", "run", "ground", says=FRAME)
    mine = [load.back_m for load in plan.loads if load.returned_by == lane]
    size = plan.rig.trailer.run.get(lane) or _cord_size(plan, lane)
    return Half("wire", f"trailer.run.{lane}", "run", lane, Wire(size, max(mine, default=far_m)))


def _cord_size(plan: RunPlan, function: str) -> WireSize:
    wire = plan.rig.trailer.cord_wire_for(function)
    return plan.rig.trailer.run["ground"] if wire is None else wire.wire.size
