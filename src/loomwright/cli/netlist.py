"""`loomwright netlist`: the rig as a deck for any SPICE."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from loomwright import netlist as write
from loomwright.cli.codes import DONE
from loomwright.cli.files import open_rig, write_result


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
    deck = write(open_rig(file), command, conditions)
    if output is None:
        sys.stdout.write(deck)
    else:
        write_result(output, deck, source=file)
    return DONE
