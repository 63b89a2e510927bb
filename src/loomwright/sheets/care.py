"""Cautions: those of before the work in one place, the others at the step where the danger is."""

from __future__ import annotations

from loomwright.hookup.model import Hookup
from loomwright.quantities import unbroken
from loomwright.reference.cautions import Caution, cautions
from loomwright.rig.model import Rig
from loomwright.sheets.facts import facts_of
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import capital

FIRST = (
    "Local codes, the makers' instructions and licensed practice come first. "
    "Where this sheet and they differ, follow them and write down why."
)
NEEDED_BY_TASK = {"any": "", "battery": "", "hybrid": "", "mains": "mains"}
"""Kinds of work whose cautions stand at the start, and the fact that calls for them."""


def care(rig: Rig, hookup: Hookup) -> Content:
    """Return the cautions to read before anything is touched, and the traps on the way."""
    return {
        "first": FIRST,
        "before": [unbroken(each.says) for each in before(rig)],
        "traps": [
            {"grave": trap.grave, "where": capital(trap.where), "says": trap.says, "do": trap.do}
            for trap in sorted(hookup.traps, key=lambda trap: not trap.grave)
        ],
    }


def before(rig: Rig) -> tuple[Caution, ...]:
    """Return the cautions of before the work that concern this job, in the order of the table."""
    facts = facts_of(rig)
    return tuple(
        row
        for row in cautions("before")
        if row.task in NEEDED_BY_TASK and NEEDED_BY_TASK[row.task] in ("", *facts)
    )


def caution(key: str) -> Caution:
    """Return a caution by its key.

    Raises
    ------
    KeyError
        If the table has none of that key.
    """
    for row in cautions():
        if row.key == key:
            return row
    raise KeyError(key)
