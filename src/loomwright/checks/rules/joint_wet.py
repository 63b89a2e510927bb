"""JOIN01: joints that do not stand water."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, listed
from loomwright.reference.joints import joint
from loomwright.rig.model import Join, Rig

CODE = "JOIN01"
SOURCE = "mil-s-52124b; ccr-13-1249: (c)"

BAD_ANYWHERE = frozenset({"piercing-tap", "wire-nut"})
"""Joints that fail on a vehicle even in the dry: from shaking, and from the strands they cut."""


@dataclass(frozen=True, slots=True)
class Wet:
    """A joint outside: its kind, what it joins, its station, whether it carries brakes."""

    kind: str
    place: str
    station: str
    brakes: bool


def joints_not_for_the_wet(work: Work) -> Iterator[Finding]:
    """Flag joints outside that are not of a kind that stands water.

    Splices of sockets, the trailer's junction, and the taps to lamps, brakes and other loads are
    outside; a kind that was only assumed is not judged. The converter's joints may lie dry: there
    only taps that cut strands and twist-on connectors are flagged. All are told in one finding.
    Twist-on connectors and piercing taps on a brake circuit must be changed: the trailer's brakes
    hang on them.
    """
    found = [each for each in _joints(work.rig) if _is_wrong(each)]
    if found:
        yield _finding(sorted(found, key=lambda each: not _is_grave(each)))


def _is_wrong(each: Wet) -> bool:
    if each.station == "converter":
        return each.kind in BAD_ANYWHERE
    return not joint(each.kind).wet_ok


def _is_grave(each: Wet) -> bool:
    return each.brakes and each.kind in BAD_ANYWHERE


def _joints(rig: Rig) -> Iterator[Wet]:
    trailer, box = rig.trailer, rig.converter
    brakes = bool(trailer.brakes)
    if box is not None:
        yield Wet(box.joint, f"inputs of the {box.name}", "converter", brakes=False)
    for socket in rig.sockets:
        if socket.join is not Join.FACTORY:
            carries = brakes and socket.wire_for("brake") is not None
            yield Wet(socket.joint, f"splices of the {socket.name} lead", "joint", carries)
    yield Wet(trailer.junction, "trailer junction", "junction", brakes)
    loads = [
        *(("lamp", each.joint, f"{each.name} lamp") for each in trailer.lamps),
        *(("brake", each.joint, f"{each.name} brake") for each in trailer.brakes),
        *(("appliance", each.joint, each.name) for each in trailer.appliances),
    ]
    for entry, kind, place in loads:
        if not _is_assumed(rig, entry, kind):
            yield Wet(kind, place, "branch", brakes=entry == "brake")


def _is_assumed(rig: Rig, entry: str, kind: str) -> bool:
    return any(
        each.value == kind
        and each.field.startswith(f"trailer.{entry}")
        and each.field.endswith(".joint")
        for each in rig.assumptions
    )


def _finding(found: list[Wet]) -> Finding:
    first = found[0]
    by_kind: dict[str, list[str]] = {}
    for each in found:
        by_kind.setdefault(each.kind, []).append(each.place)
    said = [f"{joint(kind).title} ({listed(places)})" for kind, places in by_kind.items()]
    note = joint(first.kind).note
    return Finding(
        rule=CODE,
        severity=Severity.MUST if _is_grave(first) else Severity.SHOULD,
        where=first.place,
        says=f"{capital('; '.join(said))}: not for wet places.",
        why=f"{note}." if note else "Water creeps in and the joint corrodes.",
        fix=_mend({each.station for each in found}),
        source=SOURCE,
        station=first.station,
    )


def _mend(stations: set[str]) -> str:
    butt = "Crimp a sealed butt in each wire, shrunk until the glue shows at both ends"
    if "junction" in stations:
        return f"{butt}; at the junction studs in a closed box, cable entries down, do as well."
    return f"{butt}."


RULE = Rule(CODE, "Joint not for wet places", SOURCE, joints_not_for_the_wet)
