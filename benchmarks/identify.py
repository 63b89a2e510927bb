"""Unknown wires: how many probes until they are known, against every wire under every command."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from benchmarks.identify_vehicles import OFFERED, SETS, Vehicle, draw_vehicle, shown_by_meter
from loomwright.identify.asking import choose
from loomwright.identify.behaviour import NOT_FEEDS, behaviours
from loomwright.identify.belief import believe
from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.commands import COMMANDS, GROUND_TESTS, command
from loomwright.identify.identification import Identification, identify
from loomwright.identify.reading import Reading, readings_of
from loomwright.identify.seen import Seen, Tester
from loomwright.identify.sight import Sight, sight

MOST_PROBES = 400


@dataclass(frozen=True, slots=True)
class Trial:
    """What came of one vehicle by one method.

    `said` holds for each wire the probability that was given to what was named first, and
    whether that is right; `sure` is whether it was named for good.
    """

    kind: str
    wires: int
    probes: int
    changes: int
    said: tuple[tuple[float, bool], ...]
    sure: tuple[bool, ...]

    @property
    def sure_and_wrong(self) -> int:
        """Wires named for good that are something else."""
        return sum(s and not right for s, (_, right) in zip(self.sure, self.said, strict=True))


def guided(seed: int, wrong_rate: float, kind: str | None = None) -> Trial:
    """Identify the wires of one random vehicle as the program asks."""
    chance = np.random.default_rng(seed)
    vehicle = draw_vehicle(chance, kind)
    bundle, seen = _bundle(vehicle.kind, len(vehicle.truth))
    readings: tuple[Reading, ...] = ()
    while len(readings) < MOST_PROBES:
        choice = choose(believe(bundle, readings, seen), readings)
        if choice is None:
            break
        held, tester = choice.probe.command.key, choice.probe.tester
        shown = shown_by_meter(
            *(vehicle, held, choice.wire, wrong_rate, chance), loaded=tester is Tester.LAMP
        )
        readings += readings_of(bundle, held, choice.wire, tester, shown)
    return _judged(vehicle, identify(bundle, readings, seen))


def plain(seed: int, wrong_rate: float, kind: str | None = None) -> Trial:
    """Identify the same wires by every wire under every command, read off the table."""
    chance = np.random.default_rng(seed)
    vehicle = draw_vehicle(chance, kind)
    bundle, _ = _bundle(vehicle.kind, len(vehicle.truth))
    held = _worth_holding(bundle)
    said = []
    probes = 0
    for tag, truth in vehicle.truth.items():
        row: dict[str, Seen] = {}
        for key in held:
            shown = shown_by_meter(vehicle, key, tag, wrong_rate, chance)
            row[key] = readings_of(bundle, key, tag, "meter", shown)[0].seen
        probes += len(row)
        if row["rest"] is Seen.NOTHING:
            shown = shown_by_meter(vehicle, "ohms", tag, wrong_rate, chance)
            row["ohms"] = readings_of(bundle, "ohms", tag, "meter", shown)[0].seen
            probes += 1
        said.append((1.0, _same(bundle, _read_off(bundle, row), truth)))
    sure = (True,) * len(said)
    return Trial(vehicle.kind, len(said), probes, len(held) + 1, tuple(said), sure)


@cache
def _bundle(kind: str, wires: int) -> tuple[Bundle, Sight]:
    bundle = Bundle(tuple(Wire(str(n + 1)) for n in range(wires)), OFFERED[kind], at_socket=False)
    return bundle, sight(bundle)


def _judged(vehicle: Vehicle, found: Identification) -> Trial:
    said = tuple(
        (each.guesses[0].probability, _same(found.bundle, each.guesses[0].functions, truth))
        for each, truth in zip(found.wires, vehicle.truth.values(), strict=True)
    )
    held = [command(each.command).hold for each in found.readings]
    changes = sum(a != b for a, b in zip(["", *held], held, strict=False))
    sure = tuple(each.is_settled for each in found.wires)
    return Trial(vehicle.kind, len(said), len(held), changes, said, sure)


def _same(bundle: Bundle, functions: Sequence[str], truth: str) -> bool:
    return truth in functions or (truth in NOT_FEEDS and bool(set(functions) & set(NOT_FEEDS)))


def _worth_holding(bundle: Bundle) -> tuple[str, ...]:
    """Return the commands that any open function answers, and everything off."""
    ways = [way for function in bundle.open_functions for way in behaviours()[function]]
    return tuple(
        each.key
        for each in COMMANDS
        if each.key == "rest"
        or any(
            each.key in (*way.under, *way.flashing)
            or ("@engine" in way.under and each.key == "charge")
            for way in ways
        )
        or (each.key == "key_on" and any("@key" in way.under for way in ways))
    )


def _read_off(bundle: Bundle, row: dict[str, Seen]) -> tuple[str, ...]:
    """Return the functions whose row of the table differs least; spare and ground by ohms."""
    misses = {
        function: min(_misses(function, n, row) for n in range(len(behaviours()[function])))
        for function in bundle.open_functions
        if function != "leave_alone"
    }
    best = min(misses.values())
    if misses["spare"] == best:
        return ("ground",) if row.get("ohms") is Seen.LOW else ("spare",)
    return tuple(function for function, count in misses.items() if count == best)


def _misses(function: str, number: int, row: dict[str, Seen]) -> int:
    way = behaviours()[function][number]
    count = 0
    for key, seen in row.items():
        if key in {each.key for each in GROUND_TESTS} or key in way.perhaps:
            continue
        ((state, _), *_) = way.states_under(command(key)).items()
        lit = seen in (Seen.STEADY, Seen.PARTIAL, Seen.PULSED, Seen.FLASHING)
        expected = {"off": seen is Seen.NOTHING, "flashing": seen is Seen.FLASHING}
        count += not expected.get(state, lit and seen is not Seen.FLASHING)
    return count


KINDS = tuple(SETS)
