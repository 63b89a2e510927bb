"""Answers for other programs: the JSON of the commands, versioned.

`check_report`, `hookup_report`, `lightcheck_report`, `tolerance_report`, and of changes
`changeable_report`, `mends_report` and `change_report`, return plain values (dict, list, str,
float, bool, None) that `json.dumps` takes as they are. Every number carries its unit in its name.
The form is described in `docs/reference/json.md`; a change that breaks a reader raises `VERSION`.
"""

from loomwright.reports.changes import (
    CHANGE_FORMAT,
    CHANGEABLE_FORMAT,
    MENDS_FORMAT,
    change_report,
    changeable_report,
    mends_report,
)
from loomwright.reports.check import CHECK_FORMAT, check_report
from loomwright.reports.hookup import HOOKUP_FORMAT, hookup_report
from loomwright.reports.lightcheck import LIGHTCHECK_FORMAT, lightcheck_report
from loomwright.reports.plain import VERSION
from loomwright.reports.tolerance import TOLERANCE_FORMAT, tolerance_report

__all__ = [
    "CHANGEABLE_FORMAT",
    "CHANGE_FORMAT",
    "CHECK_FORMAT",
    "HOOKUP_FORMAT",
    "LIGHTCHECK_FORMAT",
    "MENDS_FORMAT",
    "TOLERANCE_FORMAT",
    "VERSION",
    "change_report",
    "changeable_report",
    "check_report",
    "hookup_report",
    "lightcheck_report",
    "mends_report",
    "tolerance_report",
]
