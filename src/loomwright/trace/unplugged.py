"""Volts between any two points, trailer plugged in or not, solved when somebody asks."""

from __future__ import annotations

import numpy as np

from loomwright.circuit.faults import Fault
from loomwright.circuit.study import Study
from loomwright.electrics.cases import case_for
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.simulate import Changes, Floats, Whole


def volts_between(
    hypotheses: Hypotheses,
    command: int,
    points: tuple[str, str],
    *,
    plugged: bool = True,
    exact: bool = False,
) -> Floats:
    """Return the volts from one node to another under a command. [V]

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    command : int
        Number of the command.
    points : tuple of str
        The two nodes.
    plugged : bool
        Whether the trailer is plugged in.
    exact : bool
        Whether every fault is solved in its own element, for points within a row; the answer
        is then by hypothesis, otherwise by variant.
    """
    key = ("volts", command, points, plugged, exact)
    known = hypotheses.memory.get(key)
    if isinstance(known, np.ndarray):
        return known
    bench = hypotheses.field.bench
    case = case_for(bench.wiring, bench.commands[command], plugged=plugged)
    changes, numbers = changes_of(hypotheses) if exact else (hypotheses.field.changes, None)
    single = list(dict.fromkeys(fault for each in changes for fault in each))
    study = Study(bench.wiring.network, (case,), single)
    found = solved_volts(study, changes, single, points)
    found = found if numbers is None else found[numbers]
    hypotheses.memory[key] = found
    return found


def unplugged_pins(hypotheses: Hypotheses) -> tuple[Floats, Floats]:
    """Return volts of every pin with the plug pulled, to its return and to battery negative.

    Solved for all commands at once when the first is asked for; shape (variant, command, pin).

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    """
    known = hypotheses.memory.get("unplugged")
    if isinstance(known, tuple):
        return known
    bench, changes = hypotheses.field.bench, hypotheses.field.changes
    wiring = bench.wiring
    cases = [case_for(wiring, each, plugged=False) for each in bench.commands]
    single = list(dict.fromkeys(fault for each in changes for fault in each))
    study = Study(wiring.network, cases, single)
    reference = wiring.network.reference
    wanted = [(pin.node, pin.return_node or pin.node) for pin in wiring.pins]
    wanted += [(pin.node, reference) for pin in wiring.pins]
    number = {fault: n for n, fault in enumerate(single)}
    found = np.zeros((len(changes), len(cases), len(wanted)))
    for count, members in _by_count(changes).items():
        chosen = np.array([[number[f] for f in changes[n]] for n in members], dtype=int)
        cases_of = study.several_faults(chosen.reshape(len(members), count))
        readings = study.solve(cases_of, wanted)
        volts = np.nan_to_num(np.where(readings.floating, 0.0, readings.voltages_v))
        shape = len(cases), len(members), len(wanted)
        found[members] = volts.reshape(shape).transpose(1, 0, 2)
    pins = len(wiring.pins)
    both = found[..., :pins], found[..., pins:]
    hypotheses.memory["unplugged"] = both
    return both


def _by_count(changes: tuple[Changes, ...]) -> dict[int, list[int]]:
    """Numbers of the sets of changes, by how many changes they hold."""
    found: dict[int, list[int]] = {}
    for n, each in enumerate(changes):
        found.setdefault(len(each), []).append(n)
    return found


def changes_of(hypotheses: Hypotheses) -> tuple[tuple[Changes, ...], Whole]:
    """Return the very changes of every hypothesis, each set once, and which each one has."""
    number: dict[Changes, int] = {(): 0}
    of_each = []
    faults = hypotheses.faults
    for a, b in zip(hypotheses.first.tolist(), hypotheses.second.tolist(), strict=True):
        one = faults[a].changes if a >= 0 else ()
        other = faults[b].changes if b >= 0 else ()
        of_each.append(number.setdefault((*one, *other), len(number)))
    return tuple(number), np.array(of_each, dtype=int)


def solved_volts(
    study: Study,
    changes: tuple[Changes, ...],
    single: list[Fault],
    points: tuple[str, str],
    *,
    loose_too: bool = False,
) -> Floats:
    """Return the volts between two points for every set of changes of a study of one case.

    Parameters
    ----------
    study : Study
        Of one case and the single faults.
    changes : tuple
        Sets of changes.
    single : list of Fault
        The faults of the study.
    points : tuple of str
        The two nodes.
    loose_too : bool
        Whether volts between nodes that float count; else they read 0.
    """
    number = {fault: n for n, fault in enumerate(single)}
    found = np.zeros(len(changes))
    for count, members in _by_count(changes).items():
        chosen = np.array([[number[f] for f in changes[n]] for n in members], dtype=int)
        readings = study.solve(study.several_faults(chosen.reshape(len(members), count)), [points])
        volts = readings.voltages_v[:, 0]
        if not loose_too:
            volts = np.where(readings.floating[:, 0], 0.0, volts)
        found[members] = np.nan_to_num(volts)
    return found
