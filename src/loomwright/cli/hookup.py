"""`loomwright hookup`: which wire joins which."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from loomwright.cli.codes import DONE
from loomwright.cli.files import UnitsWord, open_rig
from loomwright.hookup import pair


def hookup(
    file: Path,
    /,
    *,
    json_: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
    units: UnitsWord | None = None,
) -> int:
    """Pair the wires of the rig in FILE by function, and name the traps.

    Parameters
    ----------
    file
        Job file.
    json_
        Print the pairing as JSON.
    units
        Units of the output; else the file's own, else those usual where its socket is.
    """
    rig = open_rig(file, units)
    pairing = pair(rig)
    if json_:
        from loomwright.reports import hookup_report

        print(json.dumps(hookup_report(rig, pairing)))
    else:
        from loomwright.cli.hookup_view import show_hookup

        show_hookup(rig, pairing)
    return DONE
