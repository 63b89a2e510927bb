"""What may be changed on a rig, what mends it, and what a change does, as reports."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from loomwright.changes.change import Change, Edit
from loomwright.changes.changeable import Changeable
from loomwright.changes.outcome import FindingsMoved, Outcome
from loomwright.checks.finding_keys import finding_key
from loomwright.checks.rule import Finding
from loomwright.reports.plain import VERSION, Plain, plain
from loomwright.rig.model import Rig

CHANGEABLE_FORMAT = "loomwright/changeable"
MENDS_FORMAT = "loomwright/mends"
CHANGE_FORMAT = "loomwright/change"


def changeable_report(rig: Rig, known: Sequence[Changeable]) -> dict[str, Plain]:
    """Return everything that may be changed on a rig, along the run from the battery."""
    return {**_head(CHANGEABLE_FORMAT, rig), "values": plain(tuple(known))}


def mends_report(rig: Rig, found: Iterable[tuple[Finding, Change | None]]) -> dict[str, Plain]:
    """Return every finding, gravest first, with the plain change that mends it where there is one.

    Parameters
    ----------
    rig : Rig
        The rig.
    found : iterable
        Its findings, each with its mend or None.
    """
    return {
        **_head(MENDS_FORMAT, rig),
        "findings": [
            {
                "key": finding_key(one),
                "rule": one.rule,
                "severity": one.severity.value,
                "where": one.where,
                "says": one.says,
                "mend": None if change is None else _mend(change),
            }
            for one, change in found
        ],
    }


def change_report(
    rig: Rig, edits: Sequence[Edit], result: Outcome, moved: FindingsMoved, conditions: str
) -> dict[str, Plain]:
    """Return what a change would do.

    Parameters
    ----------
    rig : Rig
        The rig as it is.
    edits : sequence of Edit
        What is changed.
    result : Outcome
        The numbers that move, and the changed job file.
    moved : FindingsMoved
        The findings that go and come.
    conditions : str
        Key of the conditions the numbers are for.
    """
    return {
        **_head(CHANGE_FORMAT, rig),
        "conditions": conditions,
        "edits": _edits(edits),
        "numbers": [
            {"words": row.words, "before": row.before, "after": row.after, "is": row.word}
            for row in result.rows
        ],
        "gone": plain(moved.gone),
        "come": plain(moved.come),
        "changed": [{"before": plain(one), "after": plain(other)} for one, other in moved.changed],
        "stays": moved.stays,
        "text": result.text,
    }


def _head(form: str, rig: Rig) -> dict[str, Plain]:
    return {"format": form, "version": VERSION, "rig": rig.name, "units": rig.units.value}


def _mend(change: Change) -> dict[str, Plain]:
    return {"says": change.says, "edits": _edits(change.edits)}


def _edits(edits: Iterable[Edit]) -> list[Plain]:
    return [{"path": each.path, "value": each.value} for each in edits]
