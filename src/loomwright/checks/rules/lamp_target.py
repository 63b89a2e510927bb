"""LAMP04: the worst lamp stays under the ideal of the trade."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import DIM, NOMINAL, is_dead_for_a_known_reason, lit, load_name
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.rules.lamp_voltage import low_lamps
from loomwright.checks.words import command_title
from loomwright.quantities import show_voltage
from loomwright.reference.limits import limit

CODE = "LAMP04"
SOURCE = "tmc-rp-704"


def lamps_under_the_ideal(work: Work) -> Iterator[Finding]:
    """Note the worst lamp of the rig if it stays under 12.5 V and LAMP01 has nothing to say.

    12.5 V is told as an ideal for 12 V trailers: nothing to mend, but the first thing to look at
    when a lamp seems weak.
    """
    bound = limit("lamp-voltage-target")
    lamps = [each for each in lit(work, NOMINAL) if not is_dead_for_a_known_reason(work, *each)]
    told = low_lamps(work, NOMINAL) or low_lamps(work, DIM)
    if work.rig.trailer.nominal_v > 13 or not lamps or told:
        return
    case, load = min(lamps, key=lambda each: each[1].voltage_v)
    if bound.is_met_by(round(load.voltage_v, 1)):
        return
    name = load_name(work.rig, load)
    yield Finding(
        rule=CODE,
        severity=Severity.NOTE,
        where=f"{name} lamp",
        says=f"The worst lamp, {name}, gets {show_voltage(load.voltage_v)} under "
        f"{command_title(case.command)}; {show_voltage(bound.value)} is the ideal.",
        why="It passes, with less in hand for the day when contacts have aged.",
        fix="Nothing now; keep the socket and its ground clean.",
        source=bound.source,
        value=load.voltage_v,
        limit=bound.value,
        unit="V",
        station="load",
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Lamp voltage under the ideal", SOURCE, lamps_under_the_ideal)
