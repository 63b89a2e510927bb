"""GRND02: the converter's thin ground carries the trailer."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.reference.conductors import area_mm2
from loomwright.rig.model import Converter, GroundMethod, Socket

CODE = "GRND02"
SOURCE = "trade-converters"


def converter_ground_shared(work: Work) -> Iterator[Finding]:
    """Flag a socket whose ground ends in the wiring of the converter it is fed from.

    A converter's own ground wire is made for what the box needs; brakes and charge line send
    many times that home through it. Told also where the old wire is thick enough, as a note.
    """
    box = work.rig.converter
    for socket in work.rig.sockets:
        joins_box = socket.joins_from == "converter"
        if box is not None and joins_box and socket.ground_method is GroundMethod.OLD_WIRE:
            yield _finding(socket, box)


def _finding(socket: Socket, box: Converter) -> Finding:
    heavy = [function for function in ("brake", "battery") if socket.wire_for(function)]
    thin = area_mm2(box.ground.size) < area_mm2(socket.ground.size)
    bad = bool(heavy) or thin
    return Finding(
        rule=CODE,
        severity=Severity.MUST if bad else Severity.NOTE,
        where=f"ground of {socket.name}",
        says=f"The ground of {socket.name} joins the old wiring at the {box.name}, whose ground "
        f"wire is {box.ground.size}.",
        why="The return of the whole trailer flows there: thin ground wires have melted so.",
        fix=f"Give {socket.name} a ring of its own on bare frame, {socket.ground.size} or thicker.",
        source=SOURCE,
        station="chassis",
        standing="common practice",
    )


RULE = Rule(CODE, "Trailer return through the converter's ground", SOURCE, converter_ground_shared)
