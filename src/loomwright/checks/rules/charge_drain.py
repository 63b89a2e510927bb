"""CHRG02: the trailer can empty the vehicle's battery."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import circuit, listed
from loomwright.electrics.carriers import carrier
from loomwright.rig.model import Feed, Live, Rig

CODE = "CHRG02"
SOURCE = "charge-line-articles"


def feed_drains_the_vehicle(work: Work) -> Iterator[Finding]:
    """Flag each feed that stays live with the engine off and has a battery or appliance on it.

    A trailer battery behind a DC-DC charger is left out: such a charger stops by itself when the
    voltage falls, if it was set up so.
    """
    drawers = _drawers(work.rig)
    for feed in work.rig.vehicle.feeds:
        on_it = [name for name, function in drawers if function == feed.function]
        if feed.live is Live.ALWAYS and on_it:
            yield _finding(feed, on_it)


def _drawers(rig: Rig) -> list[tuple[str, str | None]]:
    """Names of what draws for hours, with the vehicle feed each hangs on."""
    fed = [feed.function for feed in rig.vehicle.feeds]
    trailer, battery = rig.trailer, rig.trailer.battery
    found = [(each.name, carrier(each.function, fed)) for each in trailer.appliances]
    if battery is not None and battery.charger_power_w is None:
        found.append((battery.name, carrier(battery.function, fed)))
    return found


def _finding(feed: Feed, on_it: list[str]) -> Finding:
    return Finding(
        rule=CODE,
        severity=Severity.SHOULD,
        where=f"vehicle, {circuit(feed.function)}",
        says=f"The {circuit(feed.function)} stays live with the engine off and feeds "
        f"{listed(on_it)}.",
        why="Parked for a night with the trailer plugged in, the vehicle may not start.",
        fix="Put a relay that follows the engine into this feed, or a DC-DC charger at the "
        "trailer battery; until then unplug the trailer when parked.",
        source=SOURCE,
        station="feed",
        standing="common practice",
    )


RULE = Rule(CODE, "Feed that drains the vehicle's battery", SOURCE, feed_drains_the_vehicle)
