"""VOLT01: 12 V and 24 V meet."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import circuits
from loomwright.reference.connectors import connector
from loomwright.rig.model import ConverterKind, Rig

CODE = "VOLT01"
SOURCE = "trade-24-v"


def voltages_differ(work: Work) -> Iterator[Finding]:
    """Flag a trailer of another voltage than its vehicle, and a plug not made for the voltage.

    A step-down converter mends the first; only the circuits it carries are then safe to join.
    """
    rig = work.rig
    vehicle_v, trailer_v = rig.vehicle.supply.nominal_v, rig.trailer.nominal_v
    if vehicle_v != trailer_v:
        if rig.converter is None or rig.converter.kind is not ConverterKind.STEP_DOWN:
            yield _differ(vehicle_v, trailer_v)
        else:
            yield from _past_the_converter(rig)
    yield from _plug_of_another_voltage(rig)


def _differ(vehicle_v: float, trailer_v: float) -> Finding:
    burns = "Lamps and electronics of the trailer burn out at once."
    return Finding(
        rule=CODE,
        severity=Severity.DANGER,
        where="between vehicle and trailer",
        says=f"The vehicle runs on {vehicle_v:g} V, the trailer on {trailer_v:g} V, and no "
        "step-down converter stands between.",
        why=burns if vehicle_v > trailer_v else "The trailer's lamps hardly glow.",
        fix="Do not plug in. Fit a step-down converter that carries every circuit of the plug.",
        source=SOURCE,
        value=vehicle_v,
        limit=trailer_v,
        unit="V",
        station="converter",
        standing="common practice",
    )


def _past_the_converter(rig: Rig) -> Iterator[Finding]:
    """Circuits that reach the trailer beside the step-down converter."""
    box = rig.converter
    carried = set() if box is None else set(box.channel_a)
    lead = {wire.function for wire in rig.towing_socket.lead}
    fed = {feed.function for feed in rig.vehicle.feeds}
    past = sorted((lead & fed) - carried)
    if past:
        yield Finding(
            rule=CODE,
            severity=Severity.DANGER,
            where="beside the step-down converter",
            says=f"Not carried by the step-down converter, so at {rig.vehicle.supply.nominal_v:g} V"
            f" on a {rig.trailer.nominal_v:g} V trailer: {circuits(past)}.",
            why="What is not stepped down burns out.",
            fix="Leave these wires off the socket, or give them a converter of their own.",
            source=SOURCE,
            station="converter",
            standing="common practice",
        )


def _plug_of_another_voltage(rig: Rig) -> Iterator[Finding]:
    plug, trailer_v = connector(rig.trailer.plug), rig.trailer.nominal_v
    if plug.row.voltages_v and trailer_v not in plug.row.voltages_v:
        made_for = " or ".join(f"{each:g}" for each in plug.row.voltages_v)
        yield Finding(
            rule=CODE,
            severity=Severity.MUST,
            where="trailer plug",
            says=f"The {plug.title} is made for {made_for} V, and the trailer runs on "
            f"{trailer_v:g} V.",
            why="The next vehicle it is plugged into has another voltage.",
            fix="Fit the plug made for this voltage, and mark it.",
            source=plug.row.source,
            station="plug",
            standing=plug.row.standing,
        )


RULE = Rule(CODE, "Two voltages meet", SOURCE, voltages_differ)
