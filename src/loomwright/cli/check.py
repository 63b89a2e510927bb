"""`loomwright check`: what to put right, gravest first."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from loomwright import check as find
from loomwright.cli.codes import DONE, TO_MEND, UNUSABLE
from loomwright.cli.complaints import show_complaints
from loomwright.cli.files import UnitsWord, open_rig
from loomwright.cli.surveying import survey_with_bar
from loomwright.invalid import InvalidInput, complaints_in

if TYPE_CHECKING:
    from loomwright.checks.rule import Finding, Work


def check(
    *files: Path,
    json_: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
    assumptions: Annotated[bool, Parameter(show_default=False)] = False,
    units: UnitsWord | None = None,
) -> int:
    """List what to put right in the rigs described by FILES.

    Exits with 0 when nothing is to mend, 1 when something is, 2 when a file cannot be used;
    the other files are checked all the same.

    Parameters
    ----------
    json_
        Print findings, assumptions and all readings as JSON, one line for each file.
    assumptions
        List every value that was assumed, with its source.
    units
        Units of the output; else the file's own, else those usual where its socket is.
    files
        Job files.
    """
    if not files:
        raise InvalidInput("files", "", "name one job file or more: loomwright check job.toml")
    code, complaints = DONE, list[InvalidInput]()
    for file in files:
        try:
            work = survey_with_bar(open_rig(file, units))
        except (InvalidInput, ExceptionGroup) as problem:
            complaints.extend(complaints_in(problem))
            continue
        findings = find(work)
        if json_:
            _print_json(file, work, findings)
        else:
            named = str(file) if len(files) > 1 else ""
            _show(work, findings, named, with_assumptions=assumptions)
        if any(finding.severity.to_mend for finding in findings):
            code = TO_MEND
    if complaints:
        show_complaints(complaints)
        return UNUSABLE
    return code


def _print_json(file: Path, work: Work, findings: Sequence[Finding]) -> None:
    from loomwright.reports import check_report

    print(json.dumps(check_report(work, findings, str(file))))


def _show(work: Work, findings: Sequence[Finding], named: str, *, with_assumptions: bool) -> None:
    from loomwright.cli.check_view import show_check

    show_check(work, findings, named, with_assumptions=with_assumptions)
