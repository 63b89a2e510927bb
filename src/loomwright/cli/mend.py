"""`loomwright mend`: the plain change that mends a finding, and what it would do."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from loomwright import check as find
from loomwright.cli.codes import DONE, TO_MEND
from loomwright.cli.files import UnitsWord, open_rig, read_text
from loomwright.cli.surveying import survey_with_bar
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from collections.abc import Sequence

    from loomwright.changes.change import Change
    from loomwright.checks.rule import Finding

    Found = Sequence[tuple[Finding, Change | None]]


def mend(
    file: Path,
    key: str | None = None,
    /,
    *,
    json_: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
    units: UnitsWord | None = None,
    output: Annotated[Path | None, Parameter(name=["--output", "-o"])] = None,
) -> int:
    """Show the plain change that mends each finding of the rig in FILE, and do one.

    Without KEY it lists the findings, exits with 1 when one is to mend, else with 0. With KEY it
    shows what the change of that finding would move; only --output writes it.

    Parameters
    ----------
    file
        Job file.
    key
        Finding to mend, as the list names it; its beginning is enough where it names one.
    json_
        Print the list, or what the change does, as JSON.
    units
        Units of the output; else the file's own, else those usual where its socket is.
    output
        Write the changed job file here; FILE itself may be named, and is then written over.
    """
    from loomwright.changes.mends import mend_for
    from loomwright.rig.read import read_job

    text = read_text(file)
    work = survey_with_bar(open_rig(file, units))
    job = read_job(text)
    found = [(one, mend_for(one, work, job)) for one in find(work)]
    if key is not None:
        from loomwright.cli.change_view import show_change

        change = _chosen(key, found)
        says = f"Do: {change.says}"
        show_change(work, text, says, change.edits, as_json=json_, output=output)
        return DONE
    if output is not None:
        raise InvalidInput("output", str(output), "name the finding to mend as well")
    if json_:
        from loomwright.reports import mends_report

        print(json.dumps(mends_report(work.rig, found)))
    else:
        from loomwright.cli.mend_view import show_mends

        show_mends(work.rig.name, found)
    return TO_MEND if any(one.severity.to_mend for one, _ in found) else DONE


def _chosen(key: str, found: Found) -> Change:
    """Return the change of the finding that a key, or its beginning, names.

    Raises
    ------
    InvalidInput
        If it names none or several, or no plain change mends the one it names.
    """
    from loomwright.checks.finding_keys import finding_key
    from loomwright.reference.nearest import nearest_known

    by_key = {finding_key(one): change for one, change in found}
    named = [each for each in by_key if each.startswith(key.lower())] if key else []
    if key.lower() in by_key:
        named = [key.lower()]
    if not by_key:
        raise InvalidInput("key", key, "nothing was found on this rig, so nothing is to mend")
    if not named:
        raise InvalidInput("key", key, nearest_known(key, tuple(by_key)))
    if len(named) > 1:
        raise InvalidInput("key", key, f"it begins {len(named)}: say {' or '.join(named)}")
    change = by_key[named[0]]
    if change is None:
        fix = "no plain change mends this one: do what `loomwright check` says of it"
        raise InvalidInput("key", named[0], fix)
    return change
