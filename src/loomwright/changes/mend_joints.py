"""Mends by joint: sealed where it is wet, made again where it is hot, a ground ring of its own."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.changes.change import Change, Edit
from loomwright.checks.rule import Finding, Work
from loomwright.checks.words import listed
from loomwright.electrics.answers import JointAnswer
from loomwright.reference.joints import joint
from loomwright.rig.job import Job
from loomwright.rig.job_places import values_for
from loomwright.rig.model import GroundMethod, Join, Rig

SEALED = "sealed-butt"
MADE_AGAIN = frozenset({"butt", "wire-nut", "piercing-tap", "soldered", "terminal-block"})
"""Joints of two wires that a sealed butt replaces; contacts and screws it does not."""

OWN = GroundMethod.OWN_RING.value.replace("-", " ")


def seal(finding: Finding, work: Work, job: Job) -> Change | None:
    """Put a sealed butt for every joint of the kind that a finding tells of."""
    there = list(_joints(work.rig, job))
    kinds = {kind for kind, place, _ in there if place == finding.where}
    alike = [(place, path) for kind, place, path in there if kind in kinds]
    edits = tuple(Edit(path, SEALED) for path in dict.fromkeys(path for _, path in alike))
    if not edits:
        return None
    said = listed(list(dict.fromkeys(place for place, _ in alike)))
    return Change(f"Crimp a sealed butt in each wire of: {said}.", edits)


def own_ring(finding: Finding, work: Work, job: Job) -> Change | None:
    """Give a socket's ground a ring of its own on the frame, if its joint to an old one is bad."""
    for reading in _readings(finding, work):
        part = reading.part
        grounds = [each for each in values_for(part.ref, "joint", job) if each.subject == "ground"]
        if part.station == "joint" and grounds:
            says = (
                f"End the ground wire at a ring of its own on bright metal of the frame, instead "
                f"of the {part.place}."
            )
            return Change(says, (Edit(grounds[0].path, OWN),))
    return None


def remake_hot(finding: Finding, work: Work, job: Job) -> Change | None:
    """Replace a hot joint of two wires by a sealed butt; a contact must be looked at first."""
    for reading in _readings(finding, work):
        part = reading.part
        joints = [each for each in values_for(part.ref, "joint", job) if each.subject == "joint"]
        if part.joint_kind in MADE_AGAIN and joints:
            says = (
                f"Cut out the {joint(part.joint_kind).title} and crimp a sealed butt: {part.place}."
            )
            return Change(says, (Edit(joints[0].path, SEALED),))
    return None


def parted_returns(finding: Finding, work: Work, job: Job) -> Change | None:
    """Run each return to its own pin, where some are tied together behind the plug."""
    if not job.trailer.joined_returns:
        return None
    says = "Take the returns apart behind the plug, and run each to its own pin."
    return Change(says, (Edit("trailer.joined_returns", None),))


def _readings(finding: Finding, work: Work) -> Iterator[JointAnswer]:
    """Yield the readings of the joint a finding names."""
    for case in work.answers.by_case.values():
        if case.command == finding.command:
            yield from (each for each in case.joints if each.part.place == finding.where)


def _joints(rig: Rig, job: Job) -> Iterator[tuple[str, str, str]]:
    """Yield the joints that may be in the wet: kind, place as findings say it, path."""
    for number, socket in enumerate(rig.sockets, 1):
        if socket.join is not Join.FACTORY:
            yield socket.joint, f"splices of the {socket.name} lead", f"socket[{number}].joint"
    if rig.converter is not None:
        yield rig.converter.joint, f"inputs of the {rig.converter.name}", "converter.joint"
    yield rig.trailer.junction, "trailer junction", "trailer.junction"
    loads = [
        (f"trailer.lamp.{each.name}", f"{each.name} lamp", each.joint) for each in rig.trailer.lamps
    ]
    loads += [
        (f"trailer.brake.{each.name}", f"{each.name} brake", each.joint)
        for each in rig.trailer.brakes
    ]
    loads += [
        (f"trailer.appliance.{each.name}", each.name, each.joint) for each in rig.trailer.appliances
    ]
    for ref, place, kind in loads:
        for value in values_for(ref, "joint", job):
            yield kind, place, value.path
