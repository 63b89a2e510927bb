"""What faults of a typical rig show at brakes, controller, fuses and sockets, in words."""

from __future__ import annotations

import numpy as np

from loomwright.circuit.faults import Opened
from loomwright.trace.cases_read import Seen
from loomwright.trace.cases_stand import SHAKY, WHATEVER, Chances, Stand, among, rising
from loomwright.trace.cases_words import Spot
from loomwright.trace.homes import circuit_of
from loomwright.trace.whereabouts import side_of


def of_brakes(stand: Stand, seen: Seen) -> Chances | None:
    """Return the chance of a word for brakes, by the share of current in each magnet.

    Parameters
    ----------
    stand : Stand
        The rig with its faults.
    seen : Seen
        The observation.
    """
    numbers = [
        n
        for n, load in enumerate(stand.bench.wiring.loads)
        if load.kind == "brake" and _is_wheel(stand, seen.spot, n)
    ]
    rests = seen.command in ("rest", "charge", "key_on", "plug_in", "park", "left", "right")
    name = seen.command if seen.command in ("brake_pedal", "hazard") else "brake_lever"
    column = stand.command("rest" if rests else name)
    if not numbers or column is None:
        return None
    shares = np.asarray(stand.solved.light[:, column, :][:, numbers], dtype=float)
    share = (
        shares.min(axis=1)
        if seen.spot.name == "one" and not seen.spot.side
        else shares.mean(axis=1)
    )
    if rests:
        locked = rising(share, 0.25, 0.08)
        return among(
            {"locked": locked, "on": 0.5 * locked, "normal": 1 - locked, "off": 0.5 * (1 - locked)},
            seen,
        )
    off, full = 1.0 - rising(share, 0.12, 0.05), rising(share, 0.65, 0.12)
    weak = np.clip(1.0 - off - full, 0.0, 1.0)
    grabby = 0.3 * (shares.max(axis=1) - shares.min(axis=1) > 0.5)
    table = {"off": off, "weak": weak * (1 - grabby), "normal": full, "grabby": grabby, "on": full}
    return among(table, seen)


def _is_wheel(stand: Stand, spot: Spot, number: int) -> bool:
    load = stand.bench.wiring.loads[number]
    side = {"left": "L", "right": "R"}.get(side_of(stand.bench.wiring, load), "")
    if spot.side and side != spot.side:
        return False
    return not spot.name.startswith("axle") or f"axle {spot.name[-1]}" in load.name


def of_controller(stand: Stand, seen: Seen) -> Chances | None:
    """Return the chance of a controller's message, by the current against a healthy rig's.

    Parameters
    ----------
    stand : Stand
        The rig with its faults.
    seen : Seen
        The observation.
    """
    column = stand.command("brake_lever")
    if column is None or not np.any(stand.solved.controller_a[0, column]):
        return None
    amps = np.asarray(stand.solved.controller_a[:, column], dtype=float)
    share = amps / max(float(amps[0]), 1e-6)
    opened = stand.solved.opened[:, column].any(axis=1) & ~stand.solved.opened[0, column].any()
    none = 1.0 - rising(share, 0.15, 0.06)
    over = np.where(opened, 1.0, rising(share, 1.5, 0.15))
    none = none * (1.0 - over)
    good = np.clip(1.0 - none - over, 0.0, 1.0)
    rest = seen.command in ("rest", "key_on", "plug_in", "charge", "park")
    hidden = 0.5 if rest else 0.0
    good, over = good + hidden * over, over * (1.0 - hidden)
    table = {
        "no_trailer": 0.85 * none,
        "overload": 0.75 * over,
        "fault": 0.1 * none + 0.25 * over + 0.01,
        "connected": good,
        "normal": 0.5 * good,
        "off": 0.05 * none + 0.01,
    }
    return among(table, seen)


def of_fuse(stand: Stand, seen: Seen) -> Chances | None:
    """Return the chance of a fuse blown: by the fault itself, or by the currents it makes.

    Parameters
    ----------
    stand : Stand
        The rig with its faults.
    seen : Seen
        The observation.
    """
    wiring = stand.bench.wiring
    names = [
        (n, name)
        for n, name in enumerate(stand.solved.fuses)
        if name in wiring.parts and wiring.parts[name].kind == "fuse"
    ]
    meant = [(n, name) for n, name in names if _is_fuse(wiring.parts[name].function, seen.spot)]
    if not meant:
        return None
    opened = stand.solved.opened[:, :, [n for n, _ in meant]].any(axis=(1, 2))
    named = {name for _, name in meant}
    burnt = [
        any(isinstance(fault, Opened) and fault.element in named for fault in each)
        for each in stand.solved.changes
    ]
    blown = np.where(opened | np.array(burnt), 0.94, 0.05)
    return among(
        {"blown": blown, "off": 0.3 * blown, "whole": 1 - blown, "normal": 1 - blown}, seen
    )


def _is_fuse(function: str, spot: Spot) -> bool:
    circuit = circuit_of(function)
    name = "signal" if circuit in ("left", "right") else circuit
    return spot.name in ("all", name, circuit)


def of_socket(stand: Stand, seen: Seen) -> Chances | None:
    """Return the chance of a word for a pin of the socket, against the healthy rig.

    Parameters
    ----------
    stand : Stand
        The rig with its faults.
    seen : Seen
        The observation.
    """
    if seen.spot.part == "cord" or seen.spot.name in ("voltage", "ground"):
        return None
    found = []
    for number, pin in enumerate(stand.bench.wiring.pins):
        circuit = circuit_of(pin.function)
        side = {"left": "L", "right": "R"}.get(circuit, "")
        name = "signal" if side else circuit
        if circuit == "ground" or seen.spot.name not in ("all", name, circuit):
            continue
        if seen.spot.side and seen.spot.side != side:
            continue
        command = seen.command if seen.command not in WHATEVER else circuit
        command = {"tail": "park", "stop": "brake_pedal", "brake": "brake_lever"}.get(
            command, command
        )
        column = stand.command(command)
        if column is not None:
            found.append(_pin(stand, seen, number, column))
    if not found:
        return None
    table = np.stack(found)
    return np.asarray(table.max(axis=0) if seen.word in SHAKY else table.min(axis=0))


def _pin(stand: Stand, seen: Seen, number: int, column: int) -> Chances:
    volts = np.abs(np.asarray(stand.solved.pins[:, column, number], dtype=float))
    full = float(volts.max())
    live = rising(volts / max(full, 1.0), 0.85, 0.04)
    dead = 1.0 - rising(volts / max(full, 1.0), 0.15, 0.05)
    weak = np.clip(1.0 - live - dead, 0.0, 1.0)
    lit = live + 0.3 * weak
    table = {"off": dead, "normal": live if volts[0] > 1 else dead, "on": lit, "weak": weak}
    table |= {"dim": weak, "flashing": live, "wrong": np.abs(live - live[0])}
    return among(table, seen)
