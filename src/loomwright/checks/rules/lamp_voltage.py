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
from loomwright.checks.words import capital, circuit, command_title
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
    it must be mended; if only a hot day with tired contacts brings it there, it should be.
    """
    normal = _worst(work, NOMINAL)
    for function, (case, load) in (_worst(work, DIM) | normal).items():
        certain = function in normal
        severity = Severity.MUST if certain else Severity.SHOULD
        yield _finding(work, case, load, severity)


def _worst(work: Work, conditions: str) -> dict[str, Reading]:
    least = limit("lamp-share-of-design").share
    low = (
        (case, load)
        for case, load in lit(work, conditions)
        if load.voltage_v < least * design_voltage_v(work.rig, load)
        and not is_dead_for_a_known_reason(work, case, load)
    )
    return worst_by(low, lambda each: each[1].function, lambda each: -each[1].voltage_v)


def _finding(work: Work, case: CommandAnswer, load: LoadAnswer, severity: Severity) -> Finding:
    bound = limit("lamp-share-of-design")
    name = load_name(work.rig, load)
    design_v = design_voltage_v(work.rig, load)
    least_v = bound.share * design_v
    light = "" if load.light_share is None else f", {show_share(load.light_share)} of its light"
    when = "" if severity is Severity.MUST else " on a hot day, idling, with tired contacts"
    return Finding(
        rule=CODE,
        severity=severity,
        where=f"{name} lamp",
        says=f"{capital(circuit(load.function))}: the worst lamp, {name}, gets "
        f"{show_voltage(load.voltage_v)}{light}, under {command_title(case.command)}{when}; "
        f"{show_voltage(least_v)} is the least ({show_share(bound.share)} of "
        f"{show_voltage(design_v)}).",
        why="A weak lamp is not seen in time by the driver behind.",
        fix=less_drop(load.ladder, least_v - load.voltage_v, work.rig.units)
        or "Find where the voltage is lost: read it at the socket, then at the lamp.",
        source=bound.source,
        value=load.voltage_v,
        limit=least_v,
        unit="V",
        station="load",
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Lamp voltage too low", SOURCE, lamps_too_low)
