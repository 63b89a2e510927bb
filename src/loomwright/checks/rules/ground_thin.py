"""GRND01: a shared ground is thinner than the wires it serves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import circuit, listed
from loomwright.quantities import WireSize
from loomwright.reference.conductors import area_mm2
from loomwright.reference.connectors import connector
from loomwright.reference.functions import function as function_row
from loomwright.rig.model import PinWire, Rig

CODE = "GRND01"
SOURCE = "sae-j2247: cable; trade"

NEAR_ENOUGH = 0.88
"""SAE wire holds up to 11 % less copper than AWG of its number, and counts as the same."""


@dataclass(frozen=True, slots=True)
class Thin:
    """A return, where it is, and the thickest feed that it brings home."""

    place: str
    home: str
    size: WireSize
    thickest: WireSize
    feed: str


def grounds_too_thin(work: Work) -> Iterator[Finding]:
    """Flag each ground conductor thinner than the thickest feed whose current it brings home.

    A ground carries what all its feeds carry together. The heavy cable is built so: 8 AWG of
    ground for 10 AWG of stop and auxiliary. Which feeds a return serves is in the connector's
    table; leads, cord and run are looked at, and told in one finding.
    """
    thin = list(_thin(work.rig))
    if not thin:
        return
    worst = min(thin, key=lambda each: area_mm2(each.size) / area_mm2(each.thickest))
    is_heavy = function_row(worst.feed).kind != "lamp"
    said = [f"{each.place} {circuit(each.home)} ({each.size})" for each in thin]
    yield Finding(
        rule=CODE,
        severity=Severity.SHOULD,
        where=f"{worst.place} {circuit(worst.home)}",
        says=f"Thinner than the thickest feed beside it: {listed(said)}. The "
        f"{circuit(worst.feed)} wire there is {worst.thickest}.",
        why="All current that goes out comes home here: a thin ground dims every lamp at once.",
        fix=f"Run {worst.thickest} or thicker as ground all the way"
        + (f", or give the {circuit(worst.feed)} a ground of its own." if is_heavy else "."),
        source=SOURCE,
        station="run" if worst.place == "run" else "lead",
        standing="common practice",
    )


def _thin(rig: Rig) -> Iterator[Thin]:
    for socket in rig.sockets:
        grounded = {"ground": socket.ground.size}
        yield from _in(f"{socket.name} lead", socket.connector, socket.lead, grounded)
    yield from _in("cord", rig.trailer.plug, rig.trailer.cord, {})
    run = tuple(
        PinWire(wire.pin, wire.function, wire.wire)
        for wire in rig.trailer.cord
        if wire.function in rig.trailer.run
    )
    yield from _in("run", rig.trailer.plug, run, rig.trailer.run)


def _in(
    place: str, key: str, wires: tuple[PinWire, ...], sizes: Mapping[str, WireSize]
) -> Iterator[Thin]:
    """Look at the returns among the wires of a connector; `sizes` overrule the wires' own."""
    kind = connector(key)
    by_pin = {wire.pin: wire for wire in wires}
    for pin in kind.pins:
        home = by_pin.get(pin.number)
        fed = [by_pin[number] for number in pin.returns_for if number in by_pin]
        if home is None or not fed:
            continue
        thickest = max(fed, key=lambda wire: area_mm2(sizes.get(wire.function, wire.wire.size)))
        thickest_size = sizes.get(thickest.function, thickest.wire.size)
        size = sizes.get(home.function, home.wire.size)
        if area_mm2(size) < NEAR_ENOUGH * area_mm2(thickest_size):
            yield Thin(place, home.function, size, thickest_size, thickest.function)


RULE = Rule(CODE, "Shared ground too thin", SOURCE, grounds_too_thin)
