"""Every example rig with hundreds of faults, and pairs of them, against a circuit simulator.

Source: ngspice (Debian package) on a deck of each case; and nodal analysis in 60 digits on the
cases where the two differ most.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from tests.circuit.exact import exact_voltages
from tests.spice import run_decks

from loomwright import examples, read_rig
from loomwright.circuit import (
    Case,
    Fuse,
    Load,
    Network,
    Resistor,
    Switch,
    settle_many,
    spice_nodes,
    write_spice,
)
from loomwright.circuit.faults import Bridged, Fault, Opened, Resisted, Shorted
from loomwright.circuit.network import elements_in
from loomwright.circuit.study import Study
from loomwright.electrics.cases import case_for
from loomwright.electrics.commands import commands_for
from loomwright.electrics.wiring import wire_up

TOLERANCE_V = 12e-6
"""One part in a million of 12 V."""

EXACT_V = 1e-8

LEAK_V = 1e-6
"""What the many open bridges of the deck, 1e-17 S each, do to a node on its shunt of 1e-9 S."""

SINGLES, PAIRS = 300, 60
BRIDGE_OHM = 0.005


class FaultyRig:
    """An example with every conductor open and corroded, loads shorted, neighbours touching."""

    def __init__(self, name: str) -> None:
        rig = read_rig(examples.text(name), name)
        wiring = wire_up(rig)
        self.network = wiring.network
        self.commands = [case_for(wiring, command) for command in commands_for(rig)]
        conductors = [e.name for e in self.network.elements if isinstance(e, Resistor | Fuse)]
        loads = [e for e in self.network.elements if isinstance(e, Load)]
        touching = [(a.a, b.a) for a, b in pairwise(loads) if a.a != b.a]
        faults: list[Fault] = [Opened(each) for each in conductors]
        faults += [Resisted(each, 0.3 + 0.1 * n) for n, each in enumerate(conductors)]
        faults += [Shorted(load.name) for load in loads]
        faults += [Bridged(a, b) for a, b in touching]
        grounds = [Opened(each) for each in conductors if "ground" in each]
        faults = [*grounds, *faults[:: max(1, len(faults) // (SINGLES - len(grounds)))]]
        self.faults = tuple(dict.fromkeys(faults))
        joins = {frozenset(self._join(f)) for f in self.faults if isinstance(f, Shorted | Bridged)}
        self.joins = {join: f"join{n}" for n, join in enumerate(sorted(joins, key=sorted))}
        bridges = [
            Switch(each, *sorted(join), BRIDGE_OHM, closed=False)
            for join, each in self.joins.items()
        ]
        self.with_bridges = Network([*self.network.elements, *bridges])

    def case(self, command: int, *faults: int) -> Case:
        """The case of the network with bridges that has a command and some faults."""
        ohm: dict[str, float] = {}
        closed = dict(self.commands[command].closed)
        for fault in (self.faults[n] for n in faults):
            match fault:
                case Opened(element=name):
                    ohm[name] = float("inf")
                case Resisted(element=name, added_ohm=more):
                    element = self.network.element(name)
                    assert isinstance(element, Resistor | Fuse)
                    ohm[name] = max(ohm.get(name, 0.0), element.resistance_ohm + more)
                case _:
                    closed[self.joins[frozenset(self._join(fault))]] = True
        return replace(self.commands[command], resistance_ohm=ohm, closed=closed)

    def _join(self, fault: Fault) -> tuple[str, str]:
        if isinstance(fault, Bridged):
            return fault.a, fault.b
        assert isinstance(fault, Shorted)
        load = self.network.element(fault.element)
        assert isinstance(load, Load)
        return load.a, load.b


@pytest.mark.slow
@pytest.mark.parametrize("name", examples.names())
def test_faults_agree_with_ngspice(name: str) -> None:
    rig = FaultyRig(name)
    study = Study(rig.network, rig.commands, rig.faults)
    count, commands = len(rig.faults), len(rig.commands)
    chance = np.random.default_rng(3)
    pairs = np.sort(np.array([chance.choice(count, 2, replace=False) for _ in range(PAIRS)]))
    which = [((n + n // count) % commands, n % count) for n in range(SINGLES)]
    both = [(n % commands, n) for n in range(PAIRS)]
    single_rows = np.array([command * count + n for command, n in which])
    pair_rows = np.array([command * PAIRS + n for command, n in both])
    found = np.concatenate(
        [
            study.solve(study.single_faults().take(single_rows), "nodes").voltages_v,
            study.solve(study.fault_pairs(pairs).take(pair_rows), "nodes").voltages_v,
        ]
    )
    cases = [rig.case(command, n) for command, n in which]
    cases += [rig.case(command, *pairs[n].tolist()) for command, n in both]
    solutions = [solution for solution, _ in settle_many(rig.with_bridges, cases)]
    decks = [
        write_spice(rig.with_bridges, case, name, solution)
        for case, solution in zip(cases, solutions, strict=True)
    ]
    names = spice_nodes(rig.with_bridges)
    theirs = np.array(
        [[nodes[names[node]] for node in rig.network.nodes] for nodes in run_decks(decks)]
    )
    apart = np.abs(found - theirs).max(axis=1)

    assert len(set(which)) == SINGLES
    assert apart.max() <= TOLERANCE_V
    for worst in np.argsort(apart)[-2:]:
        solution = solutions[worst]
        exact = exact_voltages(Network(elements_in(rig.with_bridges, cases[worst])), solution)
        assert max(abs(exact[n] - solution.voltages_v[n]) for n in exact) <= EXACT_V
        one_by_one = [solution.voltages_v[node] for node in rig.network.nodes]
        assert np.abs(found[worst] - one_by_one).max() <= LEAK_V
