"""What would mend a finding where that is a plain change: wire, fuse, joint, ground, battery.

A mend is offered for what can be bought and put in as it is. What must first be measured, or
decided by the customer, is left to the finding's own words.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from loomwright.changes.change import Change
from loomwright.changes.mend_charging import engine_relay, larger_breakaway, line_charger
from loomwright.changes.mend_colours import other_colours
from loomwright.changes.mend_fuses import add_fuse, larger_fuse, smaller_fuses
from loomwright.changes.mend_joints import own_ring, parted_returns, remake_hot, seal
from loomwright.changes.mend_leads import longer_lead, usual_thickness
from loomwright.changes.mend_wires import (
    brake_wire,
    carrying,
    returns_by_wire,
    thick_grounds,
    thicker_home,
    thicker_out,
    thicker_to_load,
)
from loomwright.checks.rule import Finding, Work
from loomwright.rig.job import Job

Mend = Callable[[Finding, Work, Job], Change | None]


def _first(*mends: Mend) -> Mend:
    """Return a mend that tries each in turn."""

    def tried(finding: Finding, work: Work, job: Job) -> Change | None:
        found = (mend(finding, work, job) for mend in mends)
        return next((change for change in found if change is not None), None)

    return tried


MENDS: Mapping[str, Mend] = {
    "AWAY01": larger_breakaway,
    "BRAK01": thicker_to_load,
    "BRAK03": brake_wire,
    "CHRG01": line_charger,
    "CHRG02": engine_relay,
    "COLR01": other_colours,
    "DROP01": thicker_out,
    "DROP02": _first(own_ring, thicker_home),
    "FUSE01": larger_fuse,
    "FUSE02": smaller_fuses,
    "FUSE03": smaller_fuses,
    "FUSE04": add_fuse,
    "GRND01": thick_grounds,
    "GRND04": returns_by_wire,
    "JOIN01": seal,
    "JOIN03": _first(own_ring, remake_hot),
    "LAMP01": thicker_to_load,
    "LEAD01": longer_lead,
    "RETN01": parted_returns,
    "WIRE01": carrying,
    "WIRE02": usual_thickness,
}
"""Mends by the code of the rule whose findings they mend."""


def mend_for(finding: Finding, work: Work, job: Job) -> Change | None:
    """Return the plain change that mends a finding, or None if there is none.

    Parameters
    ----------
    finding : Finding
        One of the findings of `work`.
    work : Work
        The rig, its pairing and its answers.
    job : Job
        The job the rig was read from.
    """
    mend = MENDS.get(finding.rule)
    return None if mend is None else mend(finding, work, job)
