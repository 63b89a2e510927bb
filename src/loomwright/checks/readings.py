"""Picking from the answers: the cases that count for a rule, and the worst of a group."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterable, Iterator
from typing import TypeVar

from loomwright.checks.rule import Work
from loomwright.electrics.answers import CommandAnswer, LoadAnswer, LoadReading
from loomwright.reference.lamps import lamps
from loomwright.reference.limits import limit
from loomwright.rig.model import Bulb, Lamp, Light, Rig

NOMINAL = "nominal"
DIM = "dim"
HEAVY = "heavy"
EVERYTHING = "all"
"""The command that no driver gives: for heat and fuses, not for lamps and drops."""

LASTING = frozenset({"rest", "park", "fog", "charge"})
"""What a driver leaves on for hours; brakes, signals and reverse last for moments."""

Item = TypeVar("Item")
Key = TypeVar("Key", bound=Hashable)
Rank = TypeVar("Rank", float, tuple[int, float])


def cases(work: Work, *conditions: str, everything: bool = False) -> Iterator[CommandAnswer]:
    """Yield each command under each of these conditions, where the rig was solved for them."""
    for condition in conditions:
        if condition not in work.answers.conditions:
            continue
        for command in work.answers.commands:
            if everything or command != EVERYTHING:
                yield work.answers.at(command, condition)


def lit(
    work: Work, *conditions: str, kind: str = "lamp"
) -> Iterator[tuple[CommandAnswer, LoadAnswer]]:
    """Yield each load of a kind that a command means to be on, with that command's answer."""
    for case in cases(work, *conditions):
        for load in case.loads:
            if load.kind == kind and load.commanded:
                yield case, load


def worst_by(
    items: Iterable[Item], group: Callable[[Item], Key], badness: Callable[[Item], Rank]
) -> dict[Key, Item]:
    """Return the worst item of each group, groups in the order they were met."""
    worst: dict[Key, Item] = {}
    for item in items:
        key = group(item)
        if key not in worst or badness(item) > badness(worst[key]):
            worst[key] = item
    return worst


def is_momentary(command: str) -> bool:
    """Whether a command lasts for moments: seconds of braking, signals, reverse gear."""
    return not set(command.split("+")) <= LASTING


def design_voltage_v(rig: Rig, load: LoadAnswer) -> float:
    """Return the voltage a lamp's light is rated at. [V]"""
    light = light_of(rig, load)
    if light is None:
        return limit("design-voltage-12").value * rig.trailer.nominal_v / 12
    if isinstance(light.source, Bulb):
        return bulb_design_v(light.source, rig.trailer.nominal_v)
    return light.source.at_v


def bulb_design_v(bulb: Bulb, nominal_v: float) -> float:
    """Return the voltage a bulb's light is printed at, of the version for this system. [V]"""
    made = [row for row in lamps() if row.key == bulb.key]
    fitting = [row for row in made if row.system_v == round(nominal_v)] or made
    return fitting[0].filaments[bulb.filament].rated_v


def housing_of(rig: Rig, load: LoadReading) -> Lamp | None:
    """Return the lamp a reading belongs to: its name starts the load's name."""
    said = _plain(load.name)
    named = [lamp for lamp in rig.trailer.lamps if said.startswith(_plain(lamp.name))]
    return max(named, key=lambda lamp: len(lamp.name), default=None)


def light_of(rig: Rig, load: LoadAnswer) -> Light | None:
    """Return the light source a reading belongs to."""
    housing = housing_of(rig, load)
    lights = () if housing is None else housing.lights
    return next((light for light in lights if light.function == load.function), None)


def load_name(rig: Rig, load: LoadReading) -> str:
    """Return what a person calls the load: for a lamp the name of its housing."""
    housing = housing_of(rig, load) if load.kind == "lamp" else None
    return load.name if housing is None else housing.name


def _plain(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", " ", name.casefold()).strip() + " "


def is_dead_for_a_known_reason(work: Work, case: CommandAnswer, load: LoadAnswer) -> bool:
    """Whether a load gets nothing because of what other rules tell: no feed, or an open fuse."""
    return (
        load.floating
        or load.voltage_v < DEAD_BELOW_V
        or bool(set(case.opened) & {rung.part.element for rung in load.ladder})
    )


DEAD_BELOW_V = 0.5
"""A load below this is not fed at all: a matter of joining, not of drop."""
