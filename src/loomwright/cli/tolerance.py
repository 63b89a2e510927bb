"""`loomwright tolerance`: the band of every reading, and the joints that matter most."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from loomwright.cli.bar import with_bar
from loomwright.cli.codes import DONE
from loomwright.cli.files import open_rig

if TYPE_CHECKING:
    from loomwright.electrics.tolerance import Tolerance
    from loomwright.electrics.varied import VariedRig


def tolerance(
    file: Path,
    /,
    *,
    samples: int = 2000,
    seed: int = 1,
    joints: Literal["any", "new"] = "any",
    json_: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
) -> int:
    """Show the band of every load of the rig in FILE, and the joints that matter most.

    Every wire, joint, contact, fuse, lamp and magnet is drawn from its spread, with the supply
    and the warmth, as often as --samples says; the worst case is looked for besides.

    Parameters
    ----------
    file
        Job file.
    samples
        How many rigs to draw, 100 to 200000.
    seed
        The same seed gives the same numbers.
    joints
        Joints of any age from new to weathered, or new ones only.
    json_
        Print the bands of all loads and pins under every command as JSON.
    """
    from loomwright.electrics.tolerance import tolerance as find
    from loomwright.electrics.varied import vary

    rig = open_rig(file)
    found = with_bar(
        f"Sampling {rig.name}",
        lambda told: find(rig, samples, seed, joints, progress=told),
    )
    varied = vary(rig, joints)
    if json_:
        _print_json(file, found, varied)
    else:
        from loomwright.cli.tolerance_view import show_tolerance

        show_tolerance(rig.name, found, varied)
    return DONE


def _print_json(file: Path, found: Tolerance, varied: VariedRig) -> None:
    from loomwright.reports import tolerance_report

    print(json.dumps(tolerance_report(found, varied, str(file))))
