"""Faults of whole parts, and those that are not in the wires: logic, switches, worn brakes."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.circuit import Fuse
from loomwright.circuit.faults import Bridged, Opened
from loomwright.electrics.mating import junction_node
from loomwright.electrics.vehicle_side import feed_switch
from loomwright.observations.word import Word
from loomwright.rig.model import Braking, Rig, SocketFeed
from loomwright.trace.drafting import Draft, Plant
from loomwright.trace.homes import Home, circuit_of
from loomwright.trace.model import Sign

PEDAL = ("brake_pedal", "park+brake_pedal")


def whole_faults(plant: Plant) -> Iterator[Draft]:
    """Draw up faults that take several conductors at once."""
    fuses = [e.name for e in plant.wiring.network.elements if isinstance(e, Fuse)]
    if len(fuses) > 1:
        home = Home("vehicle", "vehicle.fuse", "fuses of the trailer, all", "all")
        yield Draft(home, "open", tuple(Opened(n) for n in fuses), factor=0.3)
    contacts = plant.wiring.plug_contacts
    if len(contacts) > 1:
        home = Home("coupling", "coupling", "plug not home in its socket", "all")
        changes = tuple(Opened(n) for n in contacts)
        yield Draft(home, "open", changes)
        yield Draft(home, "intermittent_open", changes, comes_and_goes=True)
    cord = plant.resistors("cord_wire_")
    if len(cord) > 1:
        home = Home("trailer", "trailer.cord", "cord, all conductors", "all")
        yield Draft(home, "open", tuple(Opened(n) for n in cord), factor=0.3)
    yield from _cable_to_rear(plant)
    yield from _axles(plant)
    yield from _converter_ground(plant)


def _cable_to_rear(plant: Plant) -> Iterator[Draft]:
    first = plant.wiring.rig.sockets[0].name
    wires = [
        name
        for name in plant.resistors("lead_wire_")
        if plant.part(name).ref.startswith(f"socket.{first}.")
        and plant.home(name).circuit in ("charge", "brake", "ground")
    ]
    if len(wires) > 1:
        part = "cable to the rear: charge, brake, ground"
        home = Home("vehicle", "vehicle.harness", part, "charge")
        yield Draft(home, "open", tuple(Opened(n) for n in wires), factor=0.3)


def _converter_ground(plant: Plant) -> Iterator[Draft]:
    """A converter that has lost its ground gives nothing on any output."""
    box = plant.wiring.rig.converter
    if box is None or not (box.powered or box.output_v):
        return
    switches = [n for n in plant.wiring.parts if n.startswith("converter_switch")]
    home = Home("vehicle", "vehicle.converter", "converter's ground", "all")
    yield Draft(home, "missing", tuple(Opened(n) for n in switches))


def _axles(plant: Plant) -> Iterator[Draft]:
    axles: dict[int, list[str]] = {}
    for brake in plant.wiring.rig.trailer.brakes:
        load = next(each for each in plant.wiring.loads if each.name == brake.name)
        if plant.has(f"{load.element}_branch"):
            axles.setdefault(brake.axle, []).append(f"{load.element}_branch")
    for axle, branches in axles.items():
        if len(branches) > 1:
            home = Home("trailer", "trailer.brake.wire", f"brake wires of axle {axle}", "brake")
            yield Draft(home, "open", tuple(Opened(n) for n in branches))


def logic_faults(plant: Plant) -> Iterator[Draft]:
    """Draw up what no wire explains: modules, controllers, switches, shoes, the breakaway."""
    rig = plant.wiring.rig
    yield from _module(plant, rig)
    yield from _stop_switch(rig)
    if rig.trailer.braking in (Braking.ELECTRIC, Braking.ELECTRIC_OVER_HYDRAULIC):
        yield from _controller()
        yield from _brakes(plant)


def _module(plant: Plant, rig: Rig) -> Iterator[Draft]:
    if rig.vehicle.socket_feed is not SocketFeed.MODULE:
        return
    lamps = [
        feed_switch(feed.function)
        for feed in rig.vehicle.feeds
        if circuit_of(feed.function) in ("tail", "left", "right", "stop", "fog", "reverse")
    ]
    silent = (Sign("controller", (Word.NO_TRAILER,)),)
    home = Home("vehicle", "vehicle.module", "module does not see the trailer", "all")
    changes = tuple(Opened(n) for n in lamps if plant.has(n))
    yield Draft(home, "logic", changes, signs=silent)
    for feed in rig.vehicle.feeds:
        circuit = circuit_of(feed.function)
        if circuit in ("charge", "brake"):
            part = f"module holds {circuit} off"
            home = Home("vehicle", "vehicle.module", part, circuit)
            yield Draft(home, "logic", (Opened(feed_switch(feed.function)),))
    home = Home("vehicle", "vehicle.module", "module counts the lamps", "left")
    fast = Sign("load", (Word.FLASHING_FAST,), ("left", "right", "park+left", "hazard"))
    yield Draft(home, "logic", (), signs=(fast,))
    home = Home("vehicle", "vehicle.module", "module pulses its outputs", "tail")
    flicker = Sign("load", (Word.FLICKER, Word.PULSED), ("park",), "tail")
    yield Draft(home, "logic", (), signs=(flicker,), factor=0.3)


def _stop_switch(rig: Rig) -> Iterator[Draft]:
    feeds = [f.function for f in rig.vehicle.feeds]
    stops = ("stop",) if "stop" in feeds else ("left", "right")
    dark = tuple(
        Sign("load", (Word.OFF,), PEDAL, circuit, own_too=True) for circuit in (*stops, "brake")
    )
    home = Home("vehicle", "vehicle.stop_switch", "stop lamp switch", "stop")
    yield Draft(home, "open", (), signs=dark)


def _controller() -> Iterator[Draft]:
    home = Home("vehicle", "vehicle.controller", "settings of the brake controller", "brake")
    weak = Sign("load", (Word.WEAK, Word.GRABBY), (), "brake")
    yield Draft(home, "logic", (), signs=(weak,))
    wrong = Sign("load", (Word.FLASHING,), ("left", "right", "hazard"), "brake")
    by_pedal = Sign("load", (Word.OFF,), PEDAL, "brake")
    home = Home("vehicle", "vehicle.controller", "pedal wire of the brake controller", "brake")
    yield Draft(home, "wrong_function", (), signs=(wrong, by_pedal))
    home = Home("vehicle", "vehicle.controller", "ground wire of the brake controller", "ground")
    loose = (
        Sign("controller", (Word.FAULT, Word.OFF)),
        Sign("load", (Word.WEAK, Word.COMES_AND_GOES), (), "brake"),
    )
    yield Draft(home, "high_resistance", (), signs=loose)


def _brakes(plant: Plant) -> Iterator[Draft]:
    home = Home("trailer", "trailer.brake.magnet", "shoes, magnets, adjustment", "brake")
    weak = Sign("load", (Word.WEAK, Word.GRABBY), (), "brake")
    yield Draft(home, "mechanical", (), signs=(weak,))
    home = Home("trailer", "trailer.breakaway", "breakaway switch", "brake")
    nodes = plant.wiring.network.nodes
    charge = [junction_node(f) for f in ("battery", "charge", "ignition")]
    live = next((n for n in charge if n in nodes), None)
    brake = junction_node("brake")
    changes = (Bridged(live, brake, 0.05),) if live and brake in nodes else ()
    locked = Sign("load", (Word.LOCKED,), ("rest", "charge", "still"), "brake")
    yield Draft(home, "stuck_on", changes, signs=(locked,))
    off = Sign("load", (Word.OFF, Word.WEAK), ("breakaway",), "brake")
    yield Draft(home, "open", (), signs=(off,))
    home = Home("trailer", "trailer.breakaway", "breakaway feed", "charge")
    yield Draft(home, "short_to_ground", (), signs=(off, Sign("smell", (Word.BURNT,))))
