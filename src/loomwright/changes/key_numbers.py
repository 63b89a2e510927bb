"""The numbers that tell how a rig does: its weakest lamps and magnets, its drops, its fuses."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from loomwright.checks.readings import load_name
from loomwright.checks.rule import Work
from loomwright.checks.words import circuit
from loomwright.electrics.answers import ConductorAnswer, FuseAnswer, Gist, LoadReading
from loomwright.electrics.commands import Command, commands_for
from loomwright.electrics.conditions import Conditions
from loomwright.electrics.solved import gists
from loomwright.electrics.wiring import wire_up
from loomwright.quantities import show_current, show_share, show_voltage
from loomwright.rig.model import Rig

Group = Literal["load", "home", "fuse", "wire", "battery"]
GROUPS: tuple[Group, ...] = ("load", "home", "fuse", "wire", "battery")
Cases = Mapping[str, Gist]

TELLING = ("park+brake_pedal", "hazard", "reverse", "fog", "charge", "all")
"""Commands that between them light every lamp and load every fuse."""

QUIET: frozenset[Group] = frozenset({"fuse", "wire"})
BUSY_SHARE = 0.5
"""Fuses and wires below half of what they may carry are left in peace."""

ALIKE = 1e-9
"""Share of a number below which two are one and the same, of the two lamps of a pair."""

NO_WAY_HOME = "ground"
"""What is said of a load's way home where there is none, or none of a circuit's own."""

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
    solved = gists(wire_up(rig, conditions), telling_commands(rig))
    return {each.command: each for each in solved}


def numbers_now(work: Work, under: str) -> tuple[Number, ...]:
    """Return the numbers of a rig that is solved already, under a set of conditions."""
    commands = telling_commands(work.rig)
    return key_numbers(
        work.rig, {command.key: work.answers.at(command.key, under) for command in commands}
    )


def telling_commands(rig: Rig) -> tuple[Command, ...]:
    """Return the telling commands that can show something on a rig."""
    return tuple(each for each in commands_for(rig) if each.key in TELLING)


def key_numbers(rig: Rig, cases: Cases) -> tuple[Number, ...]:
    """Return the numbers of a solved rig, the loads first.

    Parameters
    ----------
    rig : Rig
        The rig.
    cases : mapping of str to Gist
        Readings by the key of the command.
    """
    worst: dict[str, _Found] = {}
    for found in _found(cases):
        known = worst.get(found.key)
        if known is None or _is_worse(found, known):
            worst[found.key] = found
    return tuple(_number(rig, found) for found in worst.values())


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
    return GROUPS.index(one.group if one is not None else "load"), -round(abs(moved.gain), 9)


class _Found(NamedTuple):
    """A reading that may be the worst of its kind, not yet put into words."""

    key: str
    group: Group
    value: float
    command: str
    of: LoadReading | FuseAnswer | ConductorAnswer | Gist


def _is_worse(one: _Found, other: _Found) -> bool:
    worse_by = other.value - one.value if one.group == "load" else one.value - other.value
    return worse_by > ALIKE * abs(other.value)


def _found(cases: Cases) -> Iterator[_Found]:
    for command, case in cases.items():
        for load in case.loads:
            if command != "all" and load.commanded and load.kind != "trigger":
                yield from _of_load(command, load)
    for command, case in cases.items():
        for fuse in case.fuses:
            yield _Found(f"fuse {fuse.element}", "fuse", fuse.share, command, fuse)
        for wire in case.conductors:
            key = f"wire {wire.part.ref} {wire.part.path}"
            yield _Found(key, "wire", wire.share, command, wire)
        yield _Found("battery", "battery", case.supply_current_a, command, case)


def _of_load(command: str, load: LoadReading) -> Iterator[_Found]:
    if load.kind == "lamp" and load.light_share is not None:
        yield _Found(f"lamp {load.function}", "load", load.light_share, command, load)
    elif load.kind == "brake":
        yield _Found("brake", "load", load.voltage_v, command, load)
    elif load.kind in ("battery", "appliance"):
        yield _Found(f"load {load.name}", "load", load.voltage_v, command, load)
    if load.kind != "vehicle lamp" and not load.floating:
        key = f"home {load.home or NO_WAY_HOME}"
        yield _Found(key, "home", load.return_drop_v, command, load)


def _number(rig: Rig, found: _Found) -> Number:
    """Return a reading with its words."""
    match found.of:
        case LoadReading() as load:
            element = load.element
            words, said = _load_words(rig, load) if found.group == "load" else _home_words(load)
        case FuseAnswer() as fuse:
            element, words = fuse.element, fuse.place
            said = f"{show_share(round(fuse.share, 2))} of its rating"
        case ConductorAnswer() as wire:
            element, words = wire.part.element, _plain(wire.part.place)
            said = f"{show_share(round(wire.share, 2))} of what it may carry"
        case Gist() as case:
            element, words = "battery", "most that is drawn"
            said = show_current(case.supply_current_a)
    return Number(found.key, found.group, words, found.value, said, element, found.command)


def _load_words(rig: Rig, load: LoadReading) -> tuple[str, str]:
    name, volts = load_name(rig, load), show_voltage(load.voltage_v)
    if load.kind == "lamp" and load.light_share is not None:
        said = f"{volts}, {show_share(round(load.light_share, 2))}, {load.word}"
        return f"{circuit(load.function)}, weakest lamp: {name}", said
    words = f"weakest brake magnet: {name}" if load.kind == "brake" else name
    return words, f"{volts}, {show_current(load.current_a)}"


def _home_words(load: LoadReading) -> tuple[str, str]:
    words = f"lost on the way home, {circuit(load.home or NO_WAY_HOME)}"
    return words, show_voltage(load.return_drop_v)


def _plain(place: str) -> str:
    """Return a wire's place without the stretch it covers."""
    words = place.split(", ")
    return ", ".join(words[:2]) if "behind the junction" in place else place
