"""A general circuit simulator finds the same voltage at every node, for every command."""

import pytest
from tests.electrics.gallery import GALLERY
from tests.rigs import simple_rig
from tests.spice import run_decks

from loomwright.circuit import Case, spice_nodes, write_spice
from loomwright.electrics.cases import case_for
from loomwright.electrics.commands import commands_for
from loomwright.electrics.conditions import conditions_for
from loomwright.electrics.solved import settle
from loomwright.electrics.wiring import wire_up

TOLERANCE_V = 1e-6 * 12.0


@pytest.mark.parametrize("of_gallery", GALLERY)
def test_ngspice_agrees_at_every_node_under_every_command(of_gallery: str) -> None:
    rig = GALLERY[of_gallery]()
    checks = []
    for conditions in conditions_for(rig):
        wiring = wire_up(rig, conditions)
        for command in commands_for(rig):
            case = case_for(wiring, command)
            solution, _ = settle(wiring, case)
            deck = write_spice(wiring.network, case, command.title, solution)
            checks.append((f"{conditions.key}: {command.key}", wiring.network, solution, deck))

    decks = [deck for *_, deck in checks]
    for (what, network, solution, _), volts in zip(checks, run_decks(decks), strict=True):
        for node, name in spice_nodes(network).items():
            if node != network.reference:
                apart_v = abs(solution.voltages_v[node] - volts[name])
                assert apart_v <= TOLERANCE_V, f"{what}: {node}"


@pytest.mark.parametrize("element", ["contact_1_ground", "lamp_left_rear_ground_wire"])
def test_ngspice_agrees_where_a_ground_is_open(element: str) -> None:
    """Open grounds send currents backwards through filaments: the hardest cases."""
    rig = simple_rig()
    wiring = wire_up(rig)
    fault = Case(resistance_ohm={element: float("inf")})
    commands = commands_for(rig)
    cases = [case_for(wiring, command, fault) for command in commands]
    solutions = [settle(wiring, case)[0] for case in cases]
    decks = [
        write_spice(wiring.network, case, "open ground", solution)
        for case, solution in zip(cases, solutions, strict=True)
    ]
    for command, solution, volts in zip(commands, solutions, run_decks(decks), strict=True):
        for node, name in spice_nodes(wiring.network).items():
            if node != wiring.network.reference:
                apart_v = abs(solution.voltages_v[node] - volts[name])
                assert apart_v <= TOLERANCE_V, f"{command.key}: {node}"
