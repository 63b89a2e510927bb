"""LAMP01: lamps get too little voltage."""

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
from loomwright.checks.remedy import culprit, less_drop
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuits, command_title
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.quantities import show_share, show_voltage
from loomwright.reference.limits import limit

CODE = "LAMP01"
SOURCE = "ccr-13-1249: (c)"

Reading = tuple[CommandAnswer, LoadAnswer]


def lamps_too_low(work: Work) -> Iterator[Finding]:
    """Flag circuits whose worst lamp gets under 85 % of its design voltage.

    The engine runs. California asks this of commercial trailers; no other rule with a number
    was found, so it is used everywhere as the least a lamp should get. Circuits that lose most
    at the same part are told in one finding, for one mend serves them. Lamps that get there only
    on a hot day, idling, with tired contacts, are a note.
    """
    by_cause: dict[str, list[Reading]] = {}
    for reading in low_lamps(work, NOMINAL):
        by_cause.setdefault(cause_of(work, reading[1]), []).append(reading)
    for alike in by_cause.values():
        yield _finding(work, alike, Severity.MUST)
    only_dim = [] if by_cause else low_lamps(work, DIM)
    if only_dim:
        yield _finding(work, only_dim, Severity.NOTE)


def low_lamps(work: Work, conditions: str) -> list[Reading]:
    """Return the worst lamp of each circuit that is too low, with its command."""
    low = (
        (case, load)
        for case, load in lit(work, conditions)
        if is_too_low(work, load) and not is_dead_for_a_known_reason(work, case, load)
    )
    return list(
        worst_by(low, lambda each: each[1].function, lambda each: -each[1].voltage_v).values()
    )


def is_too_low(work: Work, load: LoadAnswer) -> bool:
    """Whether a lamp gets less than 85 % of its design voltage."""
    return load.voltage_v < _least_v(work, load)


def cause_of(work: Work, load: LoadAnswer) -> str:
    """Return the reference of the part at which a lamp that is too low loses most."""
    return culprit(load.ladder, max(_least_v(work, load) - load.voltage_v, 0.1))


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
        f"{show_voltage(least_v)} is the least.",
        why="A weak lamp is not seen in time by the driver behind."
        if severity is Severity.MUST
        else "It passes today, and will not when contacts have aged.",
        fix=_mend(work, load, least_v, severity),
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


def _mend(work: Work, load: LoadAnswer, least_v: float, severity: Severity) -> str:
    if severity is Severity.NOTE:
        return "Nothing now; look at socket and ground contacts at every service."
    found = less_drop(load.ladder, least_v - load.voltage_v, work.rig.units)
    return found or "Find where the voltage is lost: read it at the socket, then at the lamp."


RULE = Rule(CODE, "Lamp voltage too low", SOURCE, lamps_too_low)
