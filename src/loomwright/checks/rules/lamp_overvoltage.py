"""LAMP05: a lamp gets more than it is made for."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import NOMINAL, lit, load_name
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import command_title
from loomwright.quantities import show_voltage
from loomwright.reference.limits import limit

CODE = "LAMP05"
SOURCE = "un-r48"


def lamps_over_voltage(work: Work) -> Iterator[Finding]:
    """Note the lamp with the highest voltage if it gets over 13.9 V (28.8 V on a 24 V trailer).

    A ceiling from UN Regulation 48, from memory: it says how bright a lamp may be, and a
    filament lives shorter above it.
    """
    trailer_v = work.rig.trailer.nominal_v
    bound = limit("lamp-voltage-max-24" if trailer_v > 13 else "lamp-voltage-max-12")
    lamps = list(lit(work, NOMINAL))
    if not lamps:
        return
    case, load = max(lamps, key=lambda each: each[1].voltage_v)
    if bound.is_met_by(load.voltage_v):
        return
    name = load_name(work.rig, load)
    yield Finding(
        rule=CODE,
        severity=Severity.NOTE,
        where=f"{name} lamp",
        says=f"{name} gets {show_voltage(load.voltage_v)} under "
        f"{command_title(case.command)}; {show_voltage(bound.value)} is the most in use.",
        why="Filament lamps wear out sooner above it.",
        fix="Nothing on the trailer; if lamps fail often, have the charging voltage checked.",
        source=bound.source,
        value=load.voltage_v,
        limit=bound.value,
        unit="V",
        station="load",
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Lamp voltage over the ceiling", SOURCE, lamps_over_voltage)
