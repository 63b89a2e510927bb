"""Random vehicles with a bundle of unknown wires, and what a meter shows on them.

Made apart from the tables of `loomwright.identify`: volts are drawn, one property of a vehicle
rules all its wires, and a wrong reading is one of another wire, of a command that was not held,
or of a number noted wrongly. So the program is tried on vehicles that do not follow its model.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from numpy.random import Generator

LAMPS = frozenset(
    {"tail", "tail_left", "tail_right", "left_turn", "right_turn", "stop", "fog", "reverse"}
    | {"left_stop_turn", "right_stop_turn"}
)
KEY_ON = frozenset({"key_on", "left", "right", "reverse", "fog", "brake_lever", "charge"})

SETS: Mapping[str, tuple[str, ...]] = {
    "four-way": ("ground", "tail", "left_stop_turn", "right_stop_turn"),
    "seven-way": (
        *("ground", "tail", "left_stop_turn", "right_stop_turn"),
        *("brake", "battery", "reverse"),
    ),
    "rear loom": ("ground", "tail", "left_turn", "right_turn", "stop", "reverse"),
    "twelve-core": (
        *("ground", "ground", "tail_left", "tail_right", "left_turn", "right_turn", "stop"),
        *("fog", "reverse", "battery", "ignition", "ground"),
    ),
}
"""What real bundles hold, by kind."""

EITHER = ("left_stop_turn", "right_stop_turn", "left_turn", "right_turn", "stop")
OFFERED: Mapping[str, tuple[str, ...]] = {
    "four-way": ("ground", "tail", *EITHER, "reverse"),
    "seven-way": ("ground", "tail", *EITHER, "reverse", "brake", "battery", "charge"),
    "rear loom": ("ground", "tail", *EITHER, "reverse", "fog"),
    "twelve-core": (
        *("ground", "tail_left", "tail_right", "left_turn", "right_turn", "stop", "fog"),
        *("reverse", "battery", "ignition", "charge"),
    ),
}
"""What the person says may be among the wires: more than there is."""


@dataclass(frozen=True, slots=True)
class Vehicle:
    """A vehicle and its bundle; `truth` is the function of each wire, by its tag."""

    kind: str
    truth: Mapping[str, str]
    feeding: str
    pulsed: frozenset[str]
    lever_lights_stop: bool
    battery_with_key: bool
    brake_waits: bool
    held_off: frozenset[str]
    data: Mapping[str, float]
    supply_v: float


Shown = str | float
"""What a person notes: a word, or volts or ohms."""


def draw_vehicle(chance: Generator, kind: str | None = None) -> Vehicle:
    """Return a vehicle at random, of one kind or of any."""
    kinds = tuple(SETS)
    kind = kinds[int(chance.integers(len(kinds)))] if kind is None else kind
    functions = [f for f in SETS[kind] if chance.random() > 0.05]
    functions += ["spare"] * int(chance.integers(0, 2))
    functions += ["leave_alone"] * int(chance.random() < 0.15)
    functions += ["charge"] * int(kind == "seven-way" and chance.random() < 0.2)
    order = chance.permutation(len(functions))
    truth = {str(n + 1): functions[int(place)] for n, place in enumerate(order)}
    pulsed = set()
    if chance.random() < 0.15:
        pulsed |= {"tail", "tail_left", "tail_right"}
    if chance.random() < 0.05:
        pulsed |= {"stop", "left_stop_turn", "right_stop_turn"}
    if chance.random() < 0.4:
        pulsed.add("brake")
    held = {
        f
        for f, share in (("charge", 0.4), ("ignition", 0.1), ("battery", 0.05))
        if chance.random() < share
    }
    return Vehicle(
        kind=kind,
        truth=truth,
        feeding=str(chance.choice(["shared", "module"], p=[0.55, 0.45])),
        pulsed=frozenset(pulsed),
        lever_lights_stop=bool(chance.random() < 0.5),
        battery_with_key="ignition" not in functions and bool(chance.random() < 0.25),
        brake_waits=bool(chance.random() < 0.25),
        held_off=frozenset(held),
        data={tag: float(chance.choice([0.0, 2.5, 4.8])) for tag in truth},
        supply_v=float(chance.uniform(12.1, 12.8)),
    )


def shown_by_meter(
    vehicle: Vehicle,
    command: str,
    tag: str,
    wrong_rate: float,
    chance: Generator,
    *,
    loaded: bool = False,
) -> Shown:
    """Return what the person notes; at the rate given, of another wire, of nothing held, or so."""
    if chance.random() < wrong_rate:
        slip = int(chance.integers(3))
        if slip == 0:
            tag = str(chance.choice(list(vehicle.truth)))
        elif slip == 1 and command not in ("ohms", "drop"):
            command = "rest"
        else:
            return _noted_wrongly(command, chance)
    if command == "ohms":
        return _ohms(vehicle, tag, chance)
    if command == "drop":
        return _drop_v(vehicle, tag, chance)
    return _volts(_woken(vehicle) if loaded else vehicle, command, tag, chance)


def _woken(vehicle: Vehicle) -> Vehicle:
    """Return the vehicle as it is with a lamp on the wire: nothing waits, nothing floats."""
    return replace(vehicle, brake_waits=False, feeding="shared")


def _noted_wrongly(command: str, chance: Generator) -> Shown:
    if command == "ohms":
        return float(10.0 ** chance.uniform(-1.0, 7.0))
    if command == "drop":
        return float(chance.uniform(0.0, 12.0))
    return float(chance.uniform(0.0, 12.5))


def _volts(vehicle: Vehicle, command: str, tag: str, chance: Generator) -> Shown:
    function = vehicle.truth[tag]
    running_v = 14.1 if command == "charge" else vehicle.supply_v
    state = _state(vehicle, function, command)
    if function == "leave_alone":
        level_v = vehicle.data[tag]
        return abs(float(chance.normal(level_v, 0.05 if level_v else 0.01)))
    if state == "off":
        floats = function in LAMPS and vehicle.feeding == "module"
        stray_v = chance.exponential(0.35) if floats else abs(chance.normal(0.0, 0.03))
        return float(min(stray_v, 5.0))
    if state == "flashing":
        settled = chance.random() < 0.12
        return float(chance.uniform(1.0, 12.0)) if settled else "flashing"
    if state == "pulsed":
        return float(chance.uniform(4.0, 9.0))
    return running_v - float(abs(chance.normal(0.0, 0.25)))


def _state(vehicle: Vehicle, function: str, command: str) -> str:
    if function in vehicle.held_off or command not in _live_under(vehicle, function):
        return "off"
    if function.endswith("turn") and command in ("left", "right", "hazard"):
        return "flashing"
    return "pulsed" if function in vehicle.pulsed else "steady"


def _live_under(vehicle: Vehicle, function: str) -> frozenset[str]:
    braking = {"brake_pedal"} | ({"brake_lever"} if vehicle.lever_lights_stop else set())
    always = KEY_ON | {"rest", "park", "hazard", "brake_pedal"}
    tail, left, right = {"park", "fog"}, {"left", "hazard"}, {"right", "hazard"}
    live: dict[str, set[str] | frozenset[str]] = {
        **dict.fromkeys(("tail", "tail_left", "tail_right"), tail),
        "left_turn": left,
        "right_turn": right,
        "stop": braking,
        "left_stop_turn": left | braking,
        "right_stop_turn": right | braking,
        "brake": set() if vehicle.brake_waits else {"brake_lever"},
        **{each: {each} for each in ("reverse", "fog", "charge")},
        "battery": KEY_ON if vehicle.battery_with_key else always,
        "ignition": KEY_ON,
    }
    return frozenset(live.get(function, ()))


def _ohms(vehicle: Vehicle, tag: str, chance: Generator) -> float:
    function = vehicle.truth[tag]
    if function == "ground":
        return float(chance.uniform(0.1, 0.9))
    if function == "spare":
        return 1e7
    if function in LAMPS and vehicle.feeding == "shared":
        cold = chance.random() < 0.7
        return float(chance.uniform(0.4, 2.0) if cold else 10.0 ** chance.uniform(2.0, 5.0))
    return float(10.0 ** chance.uniform(1.5, 6.0))


def _drop_v(vehicle: Vehicle, tag: str, chance: Generator) -> float:
    function = vehicle.truth[tag]
    if function == "ground":
        return float(chance.uniform(0.01, 0.09) if chance.random() < 0.93 else 0.4)
    return float(chance.uniform(3.0, vehicle.supply_v))
