"""The rig solved: one command, or every command under every set of conditions."""

from __future__ import annotations

from collections.abc import Callable

from loomwright.circuit import Case, NoSettledState, Solution, solve, write_spice
from loomwright.circuit.network import elements_in
from loomwright.electrics.answers import Answers, CommandAnswer
from loomwright.electrics.cases import NOTHING, case_for, duties
from loomwright.electrics.commands import Command, commands_for, find_command
from loomwright.electrics.conditions import conditions_for
from loomwright.electrics.harness import BATTERY_PLUS
from loomwright.electrics.ladder import find_ladders
from loomwright.electrics.readings import (
    Solved,
    conductor_answers,
    fuse_answers,
    joint_answers,
    load_answers,
    pin_answers,
)
from loomwright.electrics.vehicle_side import SUPPLY
from loomwright.electrics.wiring import Wiring, wire_up
from loomwright.rig.model import Rig

Progress = Callable[[int, int], None]
"""Told how many of how many cases are done."""


def answers(rig: Rig, progress: Progress | None = None) -> Answers:
    """Solve a rig for every command that can show something, under every set of conditions.

    Parameters
    ----------
    rig : Rig
        The rig.
    progress : callable, optional
        Called after each case with the number done and the number in all.
    """
    commands, conditions = commands_for(rig), conditions_for(rig)
    solved: dict[tuple[str, str], CommandAnswer] = {}
    for each in conditions:
        wiring = wire_up(rig, each)
        for command in commands:
            solved[command.key, each.key] = answer(wiring, command)
            if progress is not None:
                progress(len(solved), len(commands) * len(conditions))
    return Answers(
        solved, tuple(each.key for each in commands), tuple(each.key for each in conditions)
    )


def answer(wiring: Wiring, command: Command, changes: Case = NOTHING) -> CommandAnswer:
    """Solve one command: with the plug in, and once more with it pulled for the bare pins.

    Parameters
    ----------
    wiring : Wiring
        The rig as a network.
    command : Command
        What the driver does.
    changes : Case
        What is otherwise than wired: a fault, a tolerance.
    """
    case = case_for(wiring, command, changes)
    plugged, cycling = settle(wiring, case)
    unplugged, _ = settle(wiring, case_for(wiring, command, changes, plugged=False))
    ladders = find_ladders(elements_in(wiring.network, case), wiring.parts, plugged)
    solved = Solved(wiring, command, plugged, unplugged, ladders, duties(wiring, command))
    return CommandAnswer(
        command=command.key,
        conditions=wiring.conditions.key,
        loads=tuple(load_answers(solved)),
        conductors=tuple(conductor_answers(solved)),
        fuses=tuple(fuse_answers(solved)),
        joints=tuple(joint_answers(solved)),
        pins=tuple(pin_answers(solved)),
        nodes_v=plugged.voltages_v,
        floating=plugged.floating,
        opened=plugged.opened,
        supply_v=plugged.voltages_v[BATTERY_PLUS],
        supply_current_a=plugged.currents_a[SUPPLY],
        kirchhoff_residual_a=plugged.kirchhoff_residual_a,
        power_residual_w=plugged.power_residual_w,
        cycling=cycling,
    )


def settle(wiring: Wiring, case: Case) -> tuple[Solution, tuple[str, ...]]:
    """Solve a case; where a load cycles, as it is while that load is off, with its name."""
    try:
        return solve(wiring.network, case), ()
    except NoSettledState as unsettled:
        if unsettled.solution is None:
            raise
        return unsettled.solution, unsettled.names


def netlist(rig: Rig, command: str, conditions: str = "nominal") -> str:
    """Write the rig under one command as a SPICE deck, in the state it settles in.

    Parameters
    ----------
    rig : Rig
        The rig.
    command : str
        As a person says it: ``park+left``, ``brake pedal``.
    conditions : str
        Key of a set of conditions.

    Raises
    ------
    InvalidInput
        If the command or the conditions are unknown.
    """
    meant = find_command(command, commands_for(rig))
    wiring = wire_up(rig, conditions)
    case = case_for(wiring, meant)
    title = f"{rig.name}: {meant.title}, {wiring.conditions.title}"
    return write_spice(wiring.network, case, title, settle(wiring, case)[0])
