"""WIRE02: wires thinner than usual on a trailer."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuit, listed
from loomwright.quantities import WireSize
from loomwright.reference.conductors import area_mm2
from loomwright.reference.limits import limit
from loomwright.rig.model import Rig

CODE = "WIRE02"
SOURCE = "cfr-33-183-425"

NEAR_ENOUGH = 0.75
"""1 mm² and 16 SAE pass as 16 AWG (1.31 mm²): they are sold and used as that size. Wire of
18 AWG (0.82 mm²) does not."""


def wires_thin(work: Work) -> Iterator[Finding]:
    """Note trailer conductors under 16 AWG; flag those under 18 AWG.

    16 AWG is the least for a single wire on boats, and usual on trailers; 18 AWG is used inside a
    sheath and in the bonded flat of the four-way. Only what lies on the trailer and in the leads
    is looked at: the vehicle's own wires are as its maker chose.
    """
    least = limit("thinnest-single-wire")
    thin = [(place, size) for place, _, size in thin_conductors(work.rig)]
    if not thin:
        return
    place, thinnest = min(thin, key=lambda each: area_mm2(each[1]))
    severe = area_mm2(thinnest) < limit("thinnest-wire").value
    yield Finding(
        rule=CODE,
        severity=Severity.SHOULD if severe else Severity.NOTE,
        where=place,
        says=f"Thinner than {least.value:g} AWG, down to {thinnest}: "
        f"{listed([each for each, _ in thin])}."
        if len(thin) > 1
        else f"{capital(place)} is {thinnest}, thinner than {least.value:g} AWG.",
        why="Thin wire breaks where it is clipped and leaves nothing for a larger lamp.",
        fix=f"Run {least.value:g} AWG or thicker, or keep it inside a sheath and well supported.",
        source=least.source,
        station="run",
        standing=least.standing,
    )


def thin_conductors(rig: Rig) -> list[tuple[str, str, WireSize]]:
    """Return the conductors under the usual least: place, name in the circuit, size."""
    least_mm2 = NEAR_ENOUGH * area_mm2(usual_least())
    return [each for each in _conductors(rig) if area_mm2(each[2]) < least_mm2]


def usual_least() -> WireSize:
    """Return the size that a single wire on the trailer usually has at least."""
    return WireSize("awg", f"{limit('thinnest-single-wire').value:g}")


def _conductors(rig: Rig) -> Iterator[tuple[str, str, WireSize]]:
    for socket in rig.sockets:
        for wire in socket.lead:
            ref = f"socket.{socket.name}.lead.{wire.function}"
            yield f"{socket.name} lead, {circuit(wire.function)}", ref, wire.wire.size
    for wire in rig.trailer.cord:
        yield f"cord, {circuit(wire.function)}", f"trailer.cord.{wire.function}", wire.wire.size
    for function, size in rig.trailer.run.items():
        yield f"run, {circuit(function)}", f"trailer.run.{function}", size


RULE = Rule(CODE, "Wire thinner than usual", SOURCE, wires_thin)
