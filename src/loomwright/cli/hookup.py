"""`loomwright hookup`: which wire joins which, by function."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from loomwright.cli.codes import DONE
from loomwright.cli.files import open_rig
from loomwright.cli.hookup_view import show_hookup
from loomwright.hookup import pair


def hookup(file: Path, *, json_: Annotated[bool, Parameter(name="--json")] = False) -> int:
    """Pair the wires of the rig described by FILE by function, and name the traps.

    Parameters
    ----------
    file
        Job file.
    json_
        Print the pairing as JSON.
    """
    rig = open_rig(file)
    pairing = pair(rig)
    if json_:
        from loomwright.reports import hookup_report

        print(json.dumps(hookup_report(rig, pairing), ensure_ascii=False))
    else:
        show_hookup(rig, pairing)
    return DONE
