"""JOIN01: a joint that does not stand water."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, listed
from loomwright.reference.joints import JointKind, joint
from loomwright.rig.model import Join, Rig

CODE = "JOIN01"
SOURCE = "mil-s-52124b; ccr-13-1249: (c)"

BAD_ANYWHERE = frozenset({"piercing-tap", "wire-nut"})
"""Joints that fail on a vehicle even in the dry: from shaking, and from the strands they cut."""


def joints_not_for_the_wet(work: Work) -> Iterator[Finding]:
    """Flag joints outside that are not of a kind that stands water, one finding for each kind.

    Splices of sockets, the trailer's junction, and the taps to lamps, brakes and other loads are
    outside. The converter's joints may lie dry; there only taps that cut strands and twist-on
    connectors are flagged. New work must be sealed; what is on the trailer should be.
    """
    places: dict[str, list[tuple[str, str]]] = {}
    for kind, place, station in _outside(work.rig):
        if not joint(kind).wet_ok:
            places.setdefault(kind, []).append((place, station))
    box = work.rig.converter
    if box is not None and box.joint in BAD_ANYWHERE:
        places.setdefault(box.joint, []).append((f"inputs of the {box.name}", "converter"))
    for kind, found in places.items():
        yield _finding(joint(kind), found)


def _outside(rig: Rig) -> Iterator[tuple[str, str, str]]:
    for socket in rig.sockets:
        if socket.join is not Join.FACTORY:
            yield socket.joint, f"splices of the {socket.name} lead", "joint"
    trailer = rig.trailer
    yield trailer.junction, "trailer junction", "junction"
    for lamp in trailer.lamps:
        yield lamp.joint, f"{lamp.name} lamp", "branch"
    for brake in trailer.brakes:
        yield brake.joint, f"{brake.name} brake", "branch"
    for appliance in trailer.appliances:
        yield appliance.joint, appliance.name, "branch"


def _finding(kind: JointKind, found: list[tuple[str, str]]) -> Finding:
    is_new = any(station in ("joint", "converter") for _, station in found)
    bad = kind.key in BAD_ANYWHERE
    severity = Severity.MUST if bad or is_new else Severity.SHOULD
    place, station = found[0]
    return Finding(
        rule=CODE,
        severity=severity,
        where=place,
        says=f"{capital(kind.title)}, not for wet places: {listed([each for each, _ in found])}.",
        why=f"{kind.note}." if kind.note else "Water creeps in and the joint corrodes.",
        fix=_mend(station),
        source=SOURCE,
        station=station,
    )


def _mend(station: str) -> str:
    butt = "a sealed butt in each wire, shrunk until the glue shows at both ends"
    if station == "junction":
        return f"Crimp {butt}, or use studs in a closed box with its cable entries downwards."
    return f"Crimp {butt}."


RULE = Rule(CODE, "Joint not for wet places", SOURCE, joints_not_for_the_wet)
