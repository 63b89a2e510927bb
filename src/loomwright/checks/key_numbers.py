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
from loomwright.electrics.solved import answers_to
from loomwright.electrics.wiring import wire_up
from loomwright.quantities import show_current, show_share, show_voltage
from loomwright.rig.model import Rig

Group = Literal["load", "home", "fuse", "wire", "battery"]
GROUPS: tuple[Group, ...] = ("load", "home", "fuse", "wire", "battery")
Cases = Mapping[str, CommandAnswer]

TELLING = ("park+brake_pedal", "hazard", "reverse", "fog", "charge", "all")
"""Commands that between them light every lamp and load every fuse."""

QUIET: frozenset[Group] = frozenset({"fuse", "wire"})
BUSY_SHARE = 0.5
"""Fuses and wires below half of what they may carry are left in peace."""

LEAST_CHANGE = 0.005
"""Share of a number below which two readings count as the same: less than its last digit."""


@dataclass(frozen=True, slots=True)
class Number:
    """One number of a rig, where it is read, and which way is better.

    `value` is what is compared: light as a share, volts, the share of a rating; `said` is how it
    is written, with what belongs to it.
    """

    key: str
    group: Group
    words: str
    value: float
    said: str
    element: str
    command: str

    @property
    def more_is_better(self) -> bool:
        """Whether a larger number is the better one."""
        return self.group == "load"


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
    solved = answers_to(wire_up(rig, conditions), telling_commands(rig))
    return {each.command: each for each in solved}


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
        one = moved.before or moved.after
        return one is not None and one.group not in QUIET
    if moved.after.group in QUIET and max(moved.before.value, moved.after.value) < BUSY_SHARE:
        return False
    return abs(moved.gain) > LEAST_CHANGE and moved.before.said != moved.after.said


def _order(moved: Moved) -> tuple[int, float]:
    one = moved.after or moved.before
    return GROUPS.index(one.group if one is not None else "load"), -abs(moved.gain)


def _is_worse(one: Number, other: Number) -> bool:
    return one.value < other.value if one.more_is_better else one.value > other.value


def _numbers(rig: Rig, cases: Cases) -> Iterator[Number]:
    for command, case in cases.items():
        for load in case.loads:
            if command != "all" and load.commanded and load.kind != "trigger":
                yield from _load_numbers(rig, command, load)
    for command, case in cases.items():
        for fuse in case.fuses:
            said, words = f"{show_share(round(fuse.share, 2))} of its rating", fuse.place
            at = fuse.element, command
            yield Number(f"fuse {fuse.element}", "fuse", words, fuse.share, said, *at)
        for wire in case.conductors:
            part = wire.part
            said = f"{show_share(round(wire.share, 2))} of what it may carry"
            key, at = f"wire {part.ref} {part.path}", (part.element, command)
            yield Number(key, "wire", _plain(part.place), wire.share, said, *at)
        amps = case.supply_current_a
        yield Number(
            "battery", "battery", "most that is drawn", amps, show_current(amps), "battery", command
        )


def _load_numbers(rig: Rig, command: str, load: LoadAnswer) -> Iterator[Number]:
    name, at = load_name(rig, load), (load.element, command)
    volts, amps = show_voltage(load.voltage_v), show_current(load.current_a)
    if load.kind == "lamp" and load.light_share is not None:
        words = f"{circuit(load.function)}, weakest lamp: {name}"
        said = f"{volts}, {show_share(round(load.light_share, 2))}, {load.word}"
        yield Number(f"lamp {load.function}", "load", words, load.light_share, said, *at)
    elif load.kind == "brake":
        words = f"weakest brake magnet: {name}"
        yield Number("brake", "load", words, load.voltage_v, f"{volts}, {amps}", *at)
    elif load.kind in ("battery", "appliance"):
        yield Number(f"load {load.name}", "load", name, load.voltage_v, f"{volts}, {amps}", *at)
    if load.kind != "vehicle lamp" and not load.floating:
        homes = [rung.part.function for rung in load.ladder if rung.part.path == "return"]
        home, lost_v = homes[0] if homes else "ground", load.return_drop_v
        words = f"lost on the way home, {circuit(home)}"
        yield Number(f"home {home}", "home", words, lost_v, show_voltage(lost_v), *at)


def _plain(place: str) -> str:
    """Return a wire's place without the stretch it covers."""
    words = place.split(", ")
    return ", ".join(words[:2]) if "behind the junction" in place else place
