"""Findings and what mends them, on a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from loomwright.changes.change import Change
from loomwright.checks.finding_keys import finding_key
from loomwright.checks.rule import Finding
from loomwright.cli.findings_view import summary
from loomwright.cli.paint import Page


def show_mends(name: str, found: Sequence[tuple[Finding, Change | None]]) -> None:
    """Print the findings that are to mend, each with its key and the plain change for it."""
    page = Page()
    page.head(name)
    page.line(summary([one for one, _ in found]))
    for one, change in found:
        if not one.severity.to_mend and change is None:
            continue
        page.line()
        page.ends(f"{one.where[:1].upper()}{one.where[1:]}", finding_key(one))
        page.line(f"{one.severity.value}: {one.says}", indent=2)
        if change is not None:
            page.bullet("→", change.says, indent=2)
        else:
            page.line("No plain change mends this.", "quiet", indent=2)
            page.bullet("→", one.fix, indent=2)
    if any(change is not None for _, change in found):
        page.line()
        page.line("Add a key to see what its change would do; --output writes it.", "quiet")
