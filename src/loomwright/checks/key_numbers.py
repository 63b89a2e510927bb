"""The numbers that tell how a rig does: its weakest lamps and magnets, its drops, its fuses."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from loomwright.checks.readings import load_name
from loomwright.checks.words import circuit
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.electrics.commands import Command, commands_for
from loomwright.electrics.conditions import Conditions
from loomwright.electrics.solved import answer
from loomwright.electrics.wiring import wire_up
from loomwright.rig.model import Rig

Unit = Literal["V", "A", "share"]
Cases = Mapping[str, CommandAnswer]

TELLING = ("park+brake_pedal", "hazard", "reverse", "fog", "charge", "all")
"""Commands that between them light every lamp and load every fuse."""

LEAST_CHANGE = 0.005
"""Share of a number below which two readings count as the same: less than its last digit."""


@dataclass(frozen=True, slots=True)
class Number:
    """One number of a rig: what it is, where it is read, and which way is better.

    `share` is of light, of a fuse's rating or of what a wire may carry; `word` is that of a lamp.
    """

    key: str
    words: str
    value: float
    unit: Unit
    more_is_better: bool
    element: str
    command: str
    word: str = ""


@dataclass(frozen=True, slots=True)
class Moved:
    """A number before and after a change; one of them is None where it is there only once."""

    words: str
    before: Number | None
    after: Number | None

    @property
    def gain(self) -> float:
        """Change for the better, as a share of what it was; below 0 for the worse."""
        if self.before is None or self.after is None:
            return 0.0
        change = (self.after.value - self.before.value) / max(abs(self.before.value), 1e-6)
        return change if self.after.more_is_better else -change


def solve_telling(rig: Rig, conditions: Conditions | str = "nominal") -> Cases:
    """Solve a rig for the telling commands under one set of conditions."""
    wiring = wire_up(rig, conditions)
    return {command.key: answer(wiring, command) for command in telling_commands(rig)}


def telling_commands(rig: Rig) -> tuple[Command, ...]:
    """Return the telling commands that can show something on a rig."""
    return tuple(each for each in commands_for(rig) if each.key in TELLING)


def key_numbers(rig: Rig, cases: Cases) -> tuple[Number, ...]:
    """Return the numbers of a solved rig, the loads first.

    Parameters
    ----------
    rig : Rig
        The rig.
    cases : mapping of str to CommandAnswer
        Readings by the key of the command.
    """
    found: dict[str, Number] = {}
    for number in _numbers(rig, cases):
        known = found.get(number.key)
        if known is None or _is_worse(number, known):
            found[number.key] = number
    return tuple(found.values())


def compared(before: tuple[Number, ...], after: tuple[Number, ...]) -> tuple[Moved, ...]:
    """Return the numbers that moved, those that moved most first."""
    was, now = ({each.key: each for each in numbers} for numbers in (before, after))
    moved = [
        Moved((now.get(key) or was[key]).words, was.get(key), now.get(key))
        for key in {**was, **now}
    ]
    return tuple(sorted((each for each in moved if _has_moved(each)), key=_order))


def _has_moved(moved: Moved) -> bool:
    if moved.before is None or moved.after is None:
        return True
    return abs(moved.gain) > LEAST_CHANGE or moved.before.word != moved.after.word


def _order(moved: Moved) -> tuple[bool, float]:
    return moved.before is not None and moved.after is not None, -abs(moved.gain)


def _is_worse(one: Number, other: Number) -> bool:
    return one.value < other.value if one.more_is_better else one.value > other.value


def _numbers(rig: Rig, cases: Cases) -> Iterator[Number]:
    for command, case in cases.items():
        for load in case.loads:
            if command != "all" and load.commanded and load.kind != "trigger":
                yield from _load_numbers(rig, command, load)
    for command, case in cases.items():
        for fuse in case.fuses:
            words = f"load of the {fuse.place}"
            yield Number(
                f"fuse {fuse.element}", words, fuse.share, "share", False, fuse.element, command
            )
        for wire in case.conductors:
            part = wire.part
            key, words = f"wire {part.ref} {part.path}", f"load of the {_plain(part.place)}"
            yield Number(key, words, wire.share, "share", False, part.element, command)
        amps = case.supply_current_a
        yield Number("battery", "most from the battery", amps, "A", False, "battery", command)


def _load_numbers(rig: Rig, command: str, load: LoadAnswer) -> Iterator[Number]:
    name = load_name(rig, load)
    at = load.element, command
    if load.kind == "lamp" and load.light_share is not None:
        key, words = f"lamp {load.function}", f"{circuit(load.function)}, weakest lamp: {name}"
        share = load.light_share
        yield Number(f"{key} light", words, share, "share", True, *at, load.word)
        yield Number(f"{key} volts", f"{words}, volts", load.voltage_v, "V", True, *at)
    elif load.kind == "brake":
        words = f"weakest brake magnet: {name}"
        yield Number("brake volts", words, load.voltage_v, "V", True, *at)
        yield Number("brake amps", f"{words}, current", load.current_a, "A", True, *at)
    elif load.kind in ("battery", "appliance"):
        yield Number(f"{load.name} volts", name, load.voltage_v, "V", True, *at)
        yield Number(f"{load.name} amps", f"{name}, current", load.current_a, "A", True, *at)
    if load.kind != "vehicle lamp" and not load.floating:
        homes = [rung.part.function for rung in load.ladder if rung.part.path == "return"]
        home = homes[0] if homes else "ground"
        words = f"lost on the way home, {circuit(home)}"
        yield Number(f"home {home}", words, load.return_drop_v, "V", False, *at)


def _plain(place: str) -> str:
    """Return a wire's place without the stretch it covers."""
    words = place.split(", ")
    return ", ".join(words[:2]) if "behind the junction" in place else place
