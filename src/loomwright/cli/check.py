"""`loomwright check`: what to put right, gravest first."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from loomwright import check as find
from loomwright.cli.codes import DONE, TO_MEND
from loomwright.cli.files import UnitsWord, open_rig
from loomwright.cli.findings_view import show_check
from loomwright.cli.surveying import survey_with_bar


def check(
    *files: Path,
    json_: Annotated[bool, Parameter(name="--json")] = False,
    assumptions: bool = False,
    units: UnitsWord | None = None,
) -> int:
    """List what to put right in the rigs described by FILES.

    Exits with 0 when nothing is to mend, 1 when something is, 2 when a file cannot be used.

    Parameters
    ----------
    files
        Job files.
    json_
        Print findings, assumptions and all readings as JSON: one object a line and file.
    assumptions
        List every value that was assumed, with its source.
    units
        Units of the output; else the file's own, else those of the locale.
    """
    rigs = [open_rig(file, units) for file in files]
    code = DONE
    for rig in rigs:
        work = survey_with_bar(rig)
        findings = find(work)
        if json_:
            from loomwright.reports import check_report

            print(json.dumps(check_report(work, findings), ensure_ascii=False))
        else:
            show_check(work, findings, with_assumptions=assumptions)
        if any(finding.severity.to_mend for finding in findings):
            code = TO_MEND
    return code
