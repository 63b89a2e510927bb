"""How the current really flows with a suspect in the rig: the way home that nobody meant."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from loomwright.circuit import Solution, settle_many
from loomwright.electrics.cases import case_for
from loomwright.trace.bench import Bench
from loomwright.trace.faulted import faulted
from loomwright.trace.form_words import spoken_name
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.model import Flow, Group, RigFault

if TYPE_CHECKING:
    from loomwright.trace.engine import Trace

SHOWN_A: Final = 0.03
"""Current under which nothing is drawn. [A]"""


MORE: Final = 3.0
"""Times what runs backwards on a sound rig, from which it is told."""


def flow_of(trace: Trace, group: Group) -> Flow | None:
    """Return how current flows with the likeliest suspect of a group, or None if as ever.

    Parameters
    ----------
    trace : Trace
        What it rests on.
    group : Group
        The group; the command is that of its clearest observation, or the one that shows most.
    """
    fault = group.best.fault
    for hypotheses in trace.singles:
        known = [n for n, each in enumerate(hypotheses.faults) if each.key == fault.key]
        if known and fault.changes:
            commands = [r.observation.command for r in group.reasons if r.speaks_for]
            number = _command(hypotheses, int(hypotheses.variant[known[0] + 1]), commands)
            return _flow(hypotheses.field.bench, fault, number)
    return None


def _command(hypotheses: Hypotheses, variant: int, asked: list[str]) -> int:
    """Command under which the fault shows: one that was observed, else where it shows most."""
    bench = hypotheses.field.bench
    light = hypotheses.field.light
    change = np.abs(light[variant] - light[0]).sum(axis=1)
    change[bench.number("still")] = -1.0
    for key in asked:
        if bench.has(key) and change[bench.number(key)] > 0.05:
            return bench.number(key)
    return int(np.argmax(change))


def _flow(bench: Bench, fault: RigFault, number: int) -> Flow:
    command = bench.commands[number]
    sound, case = bench.wiring.network, bench.cases[number]
    broken = faulted(sound, fault.changes)
    case = case_for(replace(bench.wiring, network=broken), command)
    good = settle_many(sound, (bench.cases[number],))[0][0]
    bad = settle_many(broken, (case,))[0][0]
    backwards = tuple(
        name
        for name, amps in bad.currents_a.items()
        if name in good.currents_a and _is_backwards(bench, name, amps, good)
    )
    currents = {name: amps for name, amps in bad.currents_a.items() if abs(amps) >= SHOWN_A}
    return Flow(command.key, currents, backwards, bad.opened, _says(bench, backwards, bad))


def _is_backwards(bench: Bench, name: str, amps: float, good: Solution) -> bool:
    """Whether current runs against its way, or through a lamp of a circuit that is off.

    A little runs backwards on a sound rig too, where wires are shared: cold filaments are good
    conductors, and every ground has some drop.
    """
    if abs(amps) < SHOWN_A:
        return False
    before = good.currents_a[name]
    if amps < 0.0 and abs(amps) > MORE * abs(before):
        return True
    if abs(before) < SHOWN_A:
        return bench.wiring.parts[name].kind in ("load", "wire")
    return before * amps < 0.0


def _says(bench: Bench, backwards: tuple[str, ...], bad: Solution) -> str:
    lamps = [
        spoken_name(load.name)
        for load in bench.wiring.loads
        if load.element in backwards and load.source
    ]
    if bad.opened:
        names = ", ".join(
            bench.wiring.parts[n].place for n in bad.opened if n in bench.wiring.parts
        )
        return f"{names} opens"
    if lamps:
        shown = ", ".join(lamps[:4]) + (" and more" if len(lamps) > 4 else "")
        return f"current finds its way home through {shown}"
    return ""
