"""How a finding is named: by what it says, so that it stays itself on one version."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

from loomwright.checks.rule import Finding


def finding_key(finding: Finding) -> str:
    """Return the name of a finding, such as ``drop02-4f1c09``."""
    told = "\n".join((finding.where, finding.command, finding.says))
    return f"{finding.rule.lower()}-{hashlib.sha256(told.encode()).hexdigest()[:8]}"


def find_finding(key: str, findings: Sequence[Finding]) -> Finding | None:
    """Return the finding of a name, or None if there is none any more."""
    return next((each for each in findings if finding_key(each) == key), None)
