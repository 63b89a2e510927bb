"""LAMP01: a lamp gets too little voltage."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import (
    DIM,
    NOMINAL,
    design_voltage_v,
    is_dead_for_a_known_reason,
    lit,
    load_name,
    worst_by,
)
from loomwright.checks.remedy import less_drop
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuits, command_title, without_side
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.quantities import show_share, show_voltage
from loomwright.reference.limits import limit

CODE = "LAMP01"
SOURCE = "ccr-13-1249: (c)"

Reading = tuple[CommandAnswer, LoadAnswer]


def lamps_too_low(work: Work) -> Iterator[Finding]:
    """Flag each circuit whose worst lamp gets under 85 % of its design voltage.

    The engine runs. California asks this of commercial trailers; no other rule with a number
    was found, so it is used everywhere as the least a lamp should get. Under normal conditions
    it must be mended, left and right told together. Circuits that get there only on a hot day,
    idling, with tired contacts, should be mended and are told in one finding.
    """
    normal = _worst(work, NOMINAL)
    pairs: dict[str, list[Reading]] = {}
    for function, reading in normal.items():
        pairs.setdefault(without_side(function), []).append(reading)
    for alike in pairs.values():
        yield _finding(work, alike, Severity.MUST)
    only_dim = [
        reading for function, reading in _worst(work, DIM).items() if function not in normal
    ]
    if only_dim:
        yield _finding(work, only_dim, Severity.SHOULD)


def is_too_low(work: Work, load: LoadAnswer) -> bool:
    """Whether a lamp gets less than 85 % of its design voltage."""
    least = limit("lamp-share-of-design").share
    return load.voltage_v < least * design_voltage_v(work.rig, load)


def _worst(work: Work, conditions: str) -> dict[str, Reading]:
    low = (
        (case, load)
        for case, load in lit(work, conditions)
        if is_too_low(work, load) and not is_dead_for_a_known_reason(work, case, load)
    )
    return worst_by(low, lambda each: each[1].function, lambda each: -each[1].voltage_v)


def _finding(work: Work, alike: list[Reading], severity: Severity) -> Finding:
    bound = limit("lamp-share-of-design")
    case, load = min(alike, key=lambda each: each[1].voltage_v - _least_v(work, each[1]))
    name, least_v = load_name(work.rig, load), _least_v(work, load)
    light = "" if load.light_share is None else f", {show_share(load.light_share)} of its light"
    when = "" if severity is Severity.MUST else " on a hot day, idling, with tired contacts"
    return Finding(
        rule=CODE,
        severity=severity,
        where=f"{name} lamp",
        says=f"{capital(circuits(each.function for _, each in alike))}: the worst lamp, {name}, "
        f"gets {show_voltage(load.voltage_v)}{light}, under {command_title(case.command)}{when}; "
        f"{show_voltage(least_v)} is the least ({show_share(bound.share)} of "
        f"{show_voltage(design_voltage_v(work.rig, load))}).",
        why="A weak lamp is not seen in time by the driver behind.",
        fix=_mend(work, load, least_v, others=len(alike) > 1),
        source=bound.source,
        value=load.voltage_v,
        limit=least_v,
        unit="V",
        station="load",
        command=case.command,
        standing=bound.standing,
    )


def _least_v(work: Work, load: LoadAnswer) -> float:
    return limit("lamp-share-of-design").share * design_voltage_v(work.rig, load)


def _mend(work: Work, load: LoadAnswer, least_v: float, *, others: bool) -> str:
    found = less_drop(load.ladder, least_v - load.voltage_v, work.rig.units)
    if not found:
        return "Find where the voltage is lost: read it at the socket, then at the lamp."
    return f"{found} Then look at the other circuits again." if others else found


RULE = Rule(CODE, "Lamp voltage too low", SOURCE, lamps_too_low)
