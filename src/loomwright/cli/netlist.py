"""`loomwright netlist`: the rig as a deck for any SPICE."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from loomwright import netlist as write
from loomwright.cli.codes import DONE
from loomwright.cli.files import open_rig, write_result
from loomwright.electrics.commands import commands_for, find_command
from loomwright.electrics.conditions import conditions_for
from loomwright.invalid import InvalidInput
from loomwright.reference.nearest import nearest_known
from loomwright.rig.model import Rig


def netlist(
    file: Path,
    /,
    *,
    command: str,
    conditions: str = "nominal",
    output: Annotated[Path | None, Parameter(name=["--output", "-o"])] = None,
) -> int:
    """Write the rig in FILE, under one command, as a standard SPICE deck.

    Parameters
    ----------
    file
        Job file.
    command
        What the driver does, e.g. "park+brake pedal".
    conditions
        nominal, dim, heavy or engine-off.
    output
        File to write; else the deck is printed.
    """
    rig = open_rig(file)
    _refuse_unknown(rig, command, conditions)
    deck = write(rig, command, conditions)
    if output is None:
        sys.stdout.write(deck)
    else:
        write_result(output, deck, source=file)
    return DONE


def _refuse_unknown(rig: Rig, command: str, conditions: str) -> None:
    """Name the nearest where nothing of that name is known."""
    known = tuple(each.key for each in conditions_for(rig))
    if conditions not in known:
        raise InvalidInput("conditions", conditions, nearest_known(conditions, known))
    commands = commands_for(rig)
    try:
        find_command(command, commands)
    except InvalidInput:
        fix = nearest_known(command, tuple(each.key for each in commands))
        raise InvalidInput("command", command, fix) from None
