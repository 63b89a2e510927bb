"""`loomwright what-if`: what a few changes would do, before anything is bought or cut."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from loomwright.cli.codes import DONE
from loomwright.cli.files import UnitsWord, open_rig, read_text
from loomwright.cli.surveying import survey_with_bar
from loomwright.invalid import InvalidInput, complaints_in, raise_all

if TYPE_CHECKING:
    from collections.abc import Sequence

    from loomwright.changes.change import Edit
    from loomwright.changes.changeable import Changeable

EXAMPLE = "trailer.run.brake=12 AWG"


def what_if(
    file: Path,
    /,
    *changes: str,
    conditions: str = "nominal",
    json_: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
    units: UnitsWord | None = None,
    output: Annotated[Path | None, Parameter(name=["--output", "-o"])] = None,
) -> int:
    """Show what CHANGES would do to the rig in FILE; without any, list what may be changed.

    Parameters
    ----------
    file
        Job file.
    conditions
        nominal, dim, heavy or engine-off.
    json_
        Print the list, or what the changes do, as JSON.
    units
        Units of the output; else the file's own, else those usual where its socket is.
    output
        Write the changed job file here; FILE itself may be named, and is then written over.
    changes
        What is to stand where, as PATH=VALUE: "trailer.run.brake=12 AWG".
    """
    from loomwright.changes.changeable import changeables
    from loomwright.rig.read import read_job

    text = read_text(file)
    rig = open_rig(file, units)
    known = changeables(rig, read_job(text), text)
    if not changes:
        if output is not None:
            raise InvalidInput("output", str(output), "say what to change as well")
        if json_:
            from loomwright.reports import changeable_report

            print(json.dumps(changeable_report(rig, known)))
        else:
            from loomwright.cli.what_if_view import show_changeable

            show_changeable(rig.name, known)
        return DONE
    from loomwright.cli.change_view import show_change
    from loomwright.cli.what_if_view import changes_in_words

    edits = _edits(known, changes)
    says = changes_in_words(known, edits)
    work = survey_with_bar(rig)
    show_change(work, text, says, edits, conditions=conditions, as_json=json_, output=output)
    return DONE


def _edits(known: Sequence[Changeable], changes: tuple[str, ...]) -> tuple[Edit, ...]:
    """Return what is to be written where.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for everything that says no path and value, or no path of the rig.
    """
    from loomwright.changes.what_if import edits_for

    fix = f'write PATH=VALUE, such as "{EXAMPLE}"'
    problems = [InvalidInput("changes", each, fix) for each in changes if "=" not in each]
    parted = [each.partition("=") for each in changes if "=" in each]
    edits: tuple[Edit, ...] = ()
    try:
        edits = edits_for(known, {path.strip(): value for path, _, value in parted})
    except ExceptionGroup as group:
        problems += complaints_in(group)
    raise_all(problems, "the changes")
    return edits
