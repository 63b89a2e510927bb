"""Faults between conductors: bridged, wet, exchanged, wired for the wrong function."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from loomwright.circuit.faults import Bridged, Swapped
from loomwright.electrics.harness import BATTERY_PLUS, slug
from loomwright.electrics.mating import junction_node
from loomwright.electrics.sockets import is_return
from loomwright.rig.model import Led, SocketFeed
from loomwright.trace.drafting import Draft, Plant, crossed
from loomwright.trace.form_words import BRIDGED_FILAMENTS_OHM, LEAK_OHM, SHORT_OHM, WET_OHM
from loomwright.trace.homes import Home, circuit_of, side_of_place

LIGHTS = ("tail", "left", "right", "stop")

Pair = tuple[str, str]


def between_faults(plant: Plant) -> Iterator[Draft]:
    """Draw up the faults between conductors of one plug, cord, box, run or lamp."""
    yield from _at_plug(plant)
    yield from _in_cord_and_box(plant)
    yield from _at_splices(plant)
    yield from _in_run(plant)
    yield from _in_lamps(plant)
    yield from _on_vehicle(plant)


def _screws(plant: Plant) -> list[str]:
    return [name for name in plant.resistors("plug_screw_") if plant.has(name)]


def _near(plant: Plant, names: Sequence[str]) -> Iterator[Pair]:
    """Pairs that are neighbours, or easily taken for each other."""
    for n, m in combinations(range(len(names)), 2):
        pair = {plant.home(names[k]).circuit for k in (n, m)}
        if m - n <= 1 or pair <= set(LIGHTS) or pair == {"brake", "charge"}:
            yield names[n], names[m]


def _said(plant: Plant, names: Sequence[str]) -> str:
    return " and ".join(plant.part(n).function.replace("_", " ") for n in names)


def _home(plant: Plant, names: Sequence[str], place: str, part: str) -> Home:
    return Home(side_of_place(place), place, part, _circuit([plant.home(n).circuit for n in names]))


def _circuit(circuits: Sequence[str]) -> str:
    """The circuit a bridge or exchange is told under: that of the lamps before others."""
    return next((c for c in circuits if c not in ("ground", "charge")), circuits[0])


def _at_plug(plant: Plant) -> Iterator[Draft]:
    screws = _screws(plant)
    supplies = [name for name in screws if plant.part(name).path == "supply"]
    grounds = [n for n in screws if plant.part(n).function == "ground"]
    for pair in _near(plant, supplies):
        home = _home(plant, pair, "trailer.plug.terminal", f"plug, {_said(plant, pair)}")
        yield Draft(home, "swapped", (Swapped(*pair),))
        bridge = Bridged(plant.ends(pair[0])[0], plant.ends(pair[1])[0], SHORT_OHM)
        yield Draft(home, "short_to_circuit", (bridge,))
    for live in supplies if grounds else ():
        pair = (grounds[0], live)
        home = _home(plant, pair, "trailer.plug.terminal", f"plug, {_said(plant, pair)}")
        yield Draft(home, "swapped", crossed(plant, pair, pair[::-1]), factor=0.5)
    lamps = [n for n in supplies if plant.home(n).circuit in ("tail", "left", "right")][:3]
    if len(lamps) == 3:
        home = _home(plant, lamps, "trailer.plug.terminal", f"plug, {_said(plant, lamps)}")
        for turn in (1, 2):
            taken = [*lamps[turn:], *lamps[:turn]]
            yield Draft(home, "wrong_function", crossed(plant, lamps, taken))
    yield from _brake_for_charge(plant, supplies)


def _brake_for_charge(plant: Plant, screws: Sequence[str]) -> Iterator[Draft]:
    both = [n for n in screws if plant.home(n).circuit in ("brake", "charge")]
    if len(both) == 2:
        home = _home(plant, both, "adapter", "adapter or plug, brake and charge")
        yield Draft(home, "swapped", (Swapped(both[0], both[1]),))


def _in_cord_and_box(plant: Plant) -> Iterator[Draft]:
    joints = [n for n in plant.resistors("junction_joint_") if plant.part(n).path == "supply"]
    for pair in _near(plant, joints):
        one, other = (junction_node(plant.part(n).function) for n in pair)
        if one == other:
            continue
        said = _said(plant, pair)
        cord = _home(plant, pair, "trailer.cord", f"cord, {said}")
        yield Draft(cord, "short_to_circuit", (Bridged(one, other, SHORT_OHM),))
        if _shows_when_wet(plant, [plant.home(n).circuit for n in pair]):
            box = _home(plant, pair, "trailer.junction_box", f"junction box, {said}")
            yield Draft(box, "leakage", (Bridged(one, other, WET_OHM),), comes_and_goes=True)
    sides = [n for n in joints if plant.home(n).circuit in ("left", "right")]
    if len(sides) == 2:
        home = _home(plant, sides, "trailer.harness", "trailer wiring, left and right")
        yield Draft(home, "swapped", (Swapped(sides[0], sides[1]),))


def _shows_when_wet(plant: Plant, circuits: Sequence[str]) -> bool:
    """Whether some 200 ohm between two circuits show at all: filaments do not even glow."""
    lamps = [load for load in plant.wiring.loads if load.kind == "lamp"]
    has_leds = any(isinstance(load.source, Led) for load in lamps)
    return has_leds or bool({"brake", "charge"} & set(circuits))


def _at_splices(plant: Plant) -> Iterator[Draft]:
    socket = plant.wiring.rig.sockets[0]
    joints = [
        name
        for name in plant.resistors(slug("joint", socket.name))
        if plant.part(name).path == "supply"
    ]
    lamps = [n for n in joints if plant.home(n).circuit in LIGHTS]
    for pair in combinations(lamps, 2):
        circuits = {plant.home(n).circuit for n in pair}
        form = "swapped" if circuits == {"left", "right"} else "wrong_function"
        part = f"vehicle splices, {_said(plant, pair)}"
        yield Draft(_home(plant, pair, "vehicle.splice", part), form, (Swapped(*pair),))


def _in_run(plant: Plant) -> Iterator[Draft]:
    ends: dict[str, str] = {}
    for name in plant.resistors("run_wire_"):
        if not is_return(plant.part(name).function):
            ends[plant.part(name).function] = name
    for pair in combinations(ends.values(), 2):
        nodes = [plant.ends(n)[1] for n in pair]
        home = _home(plant, pair, "trailer.harness", f"run, {_said(plant, pair)}")
        yield Draft(home, "short_to_circuit", (Bridged(nodes[0], nodes[1], SHORT_OHM),))


def _in_lamps(plant: Plant) -> Iterator[Draft]:
    by_lamp: dict[str, list[str]] = {}
    for load in plant.wiring.loads:
        ref = plant.part(load.element).ref
        if load.kind == "lamp" and plant.has(f"{load.element}_branch"):
            by_lamp.setdefault(ref.split(".")[2], []).append(load.element)
    for lamp, lights in by_lamp.items():
        for pair in combinations(lights, 2):
            yield from _in_one_lamp(plant, lamp, pair)


def _in_one_lamp(plant: Plant, lamp: str, pair: Pair) -> Iterator[Draft]:
    branches = tuple(f"{each}_branch" for each in pair)
    nodes = [plant.ends(name)[0] for name in pair]
    circuit = _circuit([circuit_of(plant.part(n).function) for n in pair[::-1]])
    part = f"{lamp} lamp, {_said(plant, pair)}"
    wiring = Home("trailer", "trailer.lamp.wiring", part, circuit)
    yield Draft(wiring, "swapped", (Swapped(branches[0], branches[1]),))
    yield Draft(wiring, "short_to_circuit", (Bridged(nodes[0], nodes[1], 0.005),))
    if plant.home(pair[0]).place == "trailer.lamp.bulb":
        bulb = Home("trailer", "trailer.lamp.bulb", f"{lamp} lamp", circuit)
        bridge = Bridged(nodes[0], nodes[1], BRIDGED_FILAMENTS_OHM)
        yield Draft(bulb, "bulb_internal", (bridge,))
        yield Draft(bulb, "wrong_bulb", (Bridged(nodes[0], nodes[1], 0.6),))


def _on_vehicle(plant: Plant) -> Iterator[Draft]:
    """Water and corrosion behind the vehicle's socket; a module that leaks."""
    rig = plant.wiring.rig
    pins = [p for p in plant.wiring.pins if p.socket == rig.towing and p.return_node is not None]
    for one, other in combinations(pins, 2):
        circuits = {circuit_of(p.function) for p in (one, other)}
        said = " and ".join(p.function.replace("_", " ") for p in (one, other))
        circuit = _circuit([circuit_of(p.function) for p in (one, other)])
        if circuits in ({"brake", "charge"}, {"tail", "left"}, {"tail", "right"}):
            home = Home(
                "vehicle", "vehicle.socket.terminal", f"{rig.towing} socket, {said}", circuit
            )
            yield Draft(home, "short_to_circuit", (Bridged(one.node, other.node, SHORT_OHM),))
        if not _shows_when_wet(plant, list(circuits)):
            continue
        wet = Home("vehicle", "vehicle.harness", f"connector behind the bumper, {said}", circuit)
        yield Draft(wet, "leakage", (Bridged(one.node, other.node, WET_OHM),), comes_and_goes=True)
    if rig.vehicle.socket_feed is SocketFeed.MODULE:
        for pin in pins:
            if circuit_of(pin.function) in LIGHTS:
                said = pin.function.replace("_", " ")
                home = Home(
                    "vehicle", "vehicle.module", f"module, {said}", circuit_of(pin.function)
                )
                leak = Bridged(BATTERY_PLUS, pin.node, LEAK_OHM)
                yield Draft(home, "leakage", (leak,))
