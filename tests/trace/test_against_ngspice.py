"""A general circuit simulator finds the same voltages with faults in the rig."""

from dataclasses import replace

import pytest
from tests.spice import run_decks
from tests.trace.small import MODULE, SHARED, small_trace

from loomwright.circuit import settle_many, spice_nodes, write_spice
from loomwright.electrics.cases import case_for
from loomwright.rig.model import SocketFeed
from loomwright.trace.faulted import faulted

FORMS = (
    "open",
    "high_resistance",
    "short_to_ground",
    "short_to_circuit",
    "swapped",
    "wrong_function",
    "bulb_internal",
    "leakage",
    "stuck_on",
    "undersized",
)
NEAR_V = 1e-4
"""Readings are kept in single precision."""


@pytest.mark.parametrize("feed", [SHARED, MODULE])
def test_ngspice_agrees_on_faults_of_every_form(feed: SocketFeed) -> None:
    """Under park and left at once, which loads every lamp circuit."""
    hypotheses = small_trace(feed).singles[0]
    solved, bench = hypotheses.field, hypotheses.field.bench
    command = bench.number("park+left")
    decks, wanted = [], []
    for form in FORMS:
        chosen = [n for n, f in enumerate(hypotheses.faults) if f.form == form and f.changes]
        for number in chosen[:: max(len(chosen) // 2, 1)][:2]:
            changes = solved.changes[int(hypotheses.variant[number + 1])]
            network = faulted(bench.wiring.network, changes)
            case = case_for(replace(bench.wiring, network=network), bench.commands[command])
            solution = settle_many(network, (case,))[0][0]
            decks.append(write_spice(network, case, form, solution))
            wanted.append((number, spice_nodes(network), solution.floating))
    assert len(decks) > 12
    for (number, names, floating), volts in zip(wanted, run_decks(decks), strict=True):
        variant = int(hypotheses.variant[number + 1])
        for n, load in enumerate(bench.wiring.loads):
            if {load.a, load.b} & floating:
                continue
            at = {**volts, "0": 0.0}
            spice_v = at[names[load.a]] - at[names[load.b]]
            apart_v = abs(spice_v - float(solved.volts[variant, command, n]))
            assert apart_v < NEAR_V, (hypotheses.faults[number].key, load.name)
