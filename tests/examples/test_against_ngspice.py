"""Every example rig, under every command and condition, against a general circuit simulator.

Source: ngspice (Debian package), run in batch mode on the deck that `netlist` writes.
"""

from __future__ import annotations

import pytest
from tests.spice import run_decks

from loomwright import examples, netlist, read_rig
from loomwright.electrics.conditions import conditions_for
from loomwright.electrics.solved import answers

TOLERANCE_V = 12e-6
"""One part in a million of 12 V."""


@pytest.mark.parametrize("name", examples.names())
def test_node_voltages_agree_with_ngspice_under_every_command(name: str) -> None:
    rig = read_rig(examples.text(name), name)
    ours = answers(rig)
    cases = [(command, each.key) for command in ours.commands for each in conditions_for(rig)]
    theirs = run_decks([netlist(rig, *case) for case in cases])

    for case, nodes in zip(cases, theirs, strict=True):
        expected = {node: nodes[node] for node in ours.at(*case).nodes_v if node != "0"}
        assert ours.at(*case).nodes_v == pytest.approx(expected | {"0": 0.0}, abs=TOLERANCE_V), case


@pytest.mark.parametrize("name", examples.names())
def test_currents_sum_to_nothing_and_power_is_kept(name: str) -> None:
    """Kirchhoff's current law and the conservation of energy."""
    for answer in answers(read_rig(examples.text(name), name)).by_case.values():
        assert answer.kirchhoff_residual_a <= 1e-9
        assert abs(answer.power_residual_w) <= 1e-6
