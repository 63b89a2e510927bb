"""Mends of leads and runs: long enough for the route, and no thinner than is usual."""

from __future__ import annotations

from math import ceil

from loomwright.changes.change import Change, Edit
from loomwright.changes.mend_wires import resized
from loomwright.checks.rule import Finding, Work
from loomwright.checks.rules.wire_thin import thin_conductors, usual_least
from loomwright.quantities import Units, show_length
from loomwright.quantities.units import FOOT_M
from loomwright.rig.job import Job
from loomwright.rig.model import GroundMethod

METRIC_STEP_M = 0.1
US_STEP_M = FOOT_M / 2
"""Leads are cut to the half foot, or to 10 cm."""


def longer_lead(finding: Finding, work: Work, job: Job) -> Change | None:
    """Take a lead that reaches from the joint to the socket with slack at both ends."""
    if finding.limit is None:
        return None
    for number, socket in enumerate(work.rig.sockets, 1):
        if finding.where != f"{socket.name} lead":
            continue
        length_m, written = _cut(finding.limit, work.rig.units)
        lead = job.sockets[number - 1].lead
        own = {} if lead is None else lead.conductors
        paths = [f"socket[{number}].lead.length"]
        for wire in socket.lead:
            stands = own.get(wire.function)
            is_apart = stands is not None and stands.length is not None
            ends_near = socket.ground_method is GroundMethod.OWN_RING and wire.function == "ground"
            if is_apart and wire.wire.length_m < length_m and not ends_near:
                paths.append(f"socket[{number}].lead.{wire.function}.length")
        says = f"Take a lead of {show_length(length_m, work.rig.units)} for the {socket.name}."
        return Change(says, tuple(Edit(path, written) for path in paths))
    return None


def usual_thickness(finding: Finding, work: Work, job: Job) -> Change | None:
    """Run every conductor of the trailer and the leads in the size that is the usual least."""
    return resized({ref: usual_least() for _, ref, _ in thin_conductors(work.rig)}, job)


def _cut(needed_m: float, units: Units) -> tuple[float, str]:
    """Return the length to cut for what is needed, and how a job file has it."""
    if units is Units.METRIC:
        tenths = ceil(round(needed_m / METRIC_STEP_M, 6))
        return tenths * METRIC_STEP_M, f"{tenths / 10:g} m"
    halves = ceil(round(needed_m / US_STEP_M, 6))
    return halves * US_STEP_M, f"{halves / 2:g} ft"
