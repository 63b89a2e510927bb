"""CONV03: the vehicle watches or pulses its lamps."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.rig.model import LampDrive, Led, Rig, SocketFeed

CODE = "CONV03"
SOURCE = "led-rear-lamp-note; trade-converters"

WATCHED = {
    LampDrive.PULSED: "drives its lamps with pulses",
    LampDrive.MONITORED: "watches its lamps for failures",
}


def lamps_watched(work: Work) -> Iterator[Finding]:
    """Flag a vehicle that pulses or watches its lamps and has no powered converter.

    A vehicle with its own trailer module is left out: the module does the converter's work.
    With LED lamps on the trailer it must be mended, for they flicker, glow or set off warnings;
    with bulbs it should be, for the extra current can upset the lamp drivers.
    """
    rig = work.rig
    watched = WATCHED.get(rig.vehicle.lamp_drive)
    powered = rig.converter is not None and rig.converter.powered
    if watched is None or powered or rig.vehicle.socket_feed is SocketFeed.MODULE:
        return
    leds = _has_leds(rig)
    shows = (
        "LED lamps of the trailer flicker, glow when off, or set off the failed-lamp warning"
        if leds
        else "the trailer's bulbs load lamp drivers that were not made for them"
    )
    yield Finding(
        rule=CODE,
        severity=Severity.MUST if leds else Severity.SHOULD,
        where="vehicle lamp wires",
        says=f"The vehicle {watched}, and the trailer hangs on the lamp wires: {shows}.",
        why="The vehicle may switch a lamp off, or warn of faults that are none.",
        fix="Put a powered converter between: it takes its current from the battery and only "
        "senses the lamp wires.",
        source=SOURCE,
        station="converter",
        standing="common practice",
    )


def _has_leds(rig: Rig) -> bool:
    return any(isinstance(light.source, Led) for lamp in rig.trailer.lamps for light in lamp.lights)


RULE = Rule(CODE, "Pulsed or watched lamps without a powered converter", SOURCE, lamps_watched)
