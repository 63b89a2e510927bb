"""The rig solved: one command, or every command under every set of conditions."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from loomwright.circuit import Case, Solution, settle_alike, settle_many, write_spice
from loomwright.circuit.network import elements_in
from loomwright.electrics.answers import Answers, CommandAnswer, Gist
from loomwright.electrics.cases import NOTHING, case_for, duties
from loomwright.electrics.commands import Command, commands_for, find_command
from loomwright.electrics.conditions import conditions_for
from loomwright.electrics.harness import BATTERY_PLUS
from loomwright.electrics.ladder import Ladders, find_ladders, homes
from loomwright.electrics.readings import (
    Solved,
    conductor_answers,
    fuse_answers,
    joint_answers,
    load_answers,
    load_readings,
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
    wirings = [wire_up(rig, each) for each in conditions]
    asked = [(wiring, command) for wiring in wirings for command in commands]
    solved = _answered([(*each, NOTHING) for each in asked], progress)
    keys = [(command.key, wiring.conditions.key) for wiring, command in asked]
    return Answers(
        dict(zip(keys, solved, strict=True)),
        tuple(each.key for each in commands),
        tuple(each.key for each in conditions),
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
    return _answered([(wiring, command, changes)])[0]


def gists(wiring: Wiring, commands: Sequence[Command]) -> list[Gist]:
    """Solve several commands together, in their order, and read of each what tells most.

    The readings are those of `answer`; the plug stays in, and no ladder is climbed.
    """
    cases = [case_for(wiring, command) for command in commands]
    rests = settle_many(wiring.network, cases)
    home = homes(wiring.network.elements, wiring.parts, wiring.loads)
    return [
        _gist(Solved(wiring, command, rest, duties(wiring, command)), home)
        for command, (rest, _) in zip(commands, rests, strict=True)
    ]


def settle(wiring: Wiring, case: Case) -> tuple[Solution, tuple[str, ...]]:
    """Solve a case; where a load cycles, as it is while that load is off, with its name."""
    return settle_many(wiring.network, (case,))[0]


Asked = tuple[Wiring, Command, Case]
"""A command to a rig, and what is otherwise than wired."""


def _answered(asked: Sequence[Asked], progress: Progress | None = None) -> list[CommandAnswer]:
    """Answers to many commands, all solved together, with the plug in and with it pulled."""
    jobs = [
        (wiring.network, case_for(wiring, command, changes, plugged=plugged))
        for wiring, command, changes in asked
        for plugged in (True, False)
    ]
    rests = settle_alike(jobs)
    answers = []
    for each, job, plugged, unplugged in zip(
        asked, jobs[::2], rests[::2], rests[1::2], strict=True
    ):
        wiring, command, _ = each
        ladders = find_ladders(elements_in(*job), wiring.parts, plugged[0])
        solved = Solved(wiring, command, plugged[0], duties(wiring, command))
        answers.append(_read(solved, ladders, unplugged[0], plugged[1]))
        if progress is not None:
            progress(len(answers), len(asked))
    return answers


def _gist(solved: Solved, home: Mapping[str, str]) -> Gist:
    return Gist(
        command=solved.command.key,
        conditions=solved.wiring.conditions.key,
        loads=tuple(load_readings(solved, home)),
        conductors=tuple(conductor_answers(solved)),
        fuses=tuple(fuse_answers(solved)),
        supply_current_a=solved.plugged.currents_a[SUPPLY],
    )


def _read(
    solved: Solved, ladders: Ladders, unplugged: Solution, cycling: tuple[str, ...]
) -> CommandAnswer:
    plugged = solved.plugged
    return CommandAnswer(
        command=solved.command.key,
        conditions=solved.wiring.conditions.key,
        loads=tuple(load_answers(solved, ladders)),
        conductors=tuple(conductor_answers(solved)),
        fuses=tuple(fuse_answers(solved)),
        joints=tuple(joint_answers(solved)),
        pins=tuple(pin_answers(solved, unplugged)),
        nodes_v=plugged.voltages_v,
        floating=plugged.floating,
        opened=plugged.opened,
        supply_v=plugged.voltages_v[BATTERY_PLUS],
        supply_current_a=plugged.currents_a[SUPPLY],
        kirchhoff_residual_a=plugged.kirchhoff_residual_a,
        power_residual_w=plugged.power_residual_w,
        cycling=cycling,
    )


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
