"""LAMP02: a lamp has voltage enough and is dim all the same."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import (
    NOMINAL,
    design_voltage_v,
    is_dead_for_a_known_reason,
    lit,
    load_name,
    worst_by,
)
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuit, command_title
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.quantities import show_share, show_voltage
from loomwright.reference.limits import limit

CODE = "LAMP02"
SOURCE = "assumption"


def lamps_dim(work: Work) -> Iterator[Finding]:
    """Flag each circuit with a lamp under half its rated light at a voltage that would pass.

    This is how LED lamps and pulsed lamp feeds fail: an LED string loses light faster than a
    filament, and a filament on pulses shows the mean, not what a meter reads.
    """
    dim = ((case, load) for case, load in lit(work, NOMINAL) if _is_dim(work, case, load))
    worst = worst_by(dim, lambda each: each[1].function, lambda each: -(each[1].light_share or 0))
    for case, load in worst.values():
        yield _finding(work, case, load)


def _is_dim(work: Work, case: CommandAnswer, load: LoadAnswer) -> bool:
    if load.light_share is None or is_dead_for_a_known_reason(work, case, load):
        return False
    least_v = limit("lamp-share-of-design").share * design_voltage_v(work.rig, load)
    return load.voltage_v >= least_v and load.light_share < limit("light-share-dim").share


def _finding(work: Work, case: CommandAnswer, load: LoadAnswer) -> Finding:
    bound = limit("light-share-dim")
    share = load.light_share or 0.0
    name = load_name(work.rig, load)
    return Finding(
        rule=CODE,
        severity=Severity.SHOULD,
        where=f"{name} lamp",
        says=f"{capital(circuit(load.function))}: {name} gives {show_share(share)} of its "
        f"light at {show_voltage(load.voltage_v)} under {command_title(case.command)}; under "
        f"{show_share(bound.share)} a lamp looks dim.",
        why="The eye of the driver behind sees light, not volts.",
        fix="Fit a lamp that is made for this voltage, or feed it through a powered converter if "
        "the vehicle pulses its lamps.",
        source=bound.source,
        value=100 * share,
        limit=bound.value,
        unit="%",
        station="load",
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Lamp dim at a good voltage", SOURCE, lamps_dim)
