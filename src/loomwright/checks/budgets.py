"""Which loads have a drop to be judged, and how much of the supply each may lose on the way."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import NOMINAL, cases, is_dead_for_a_known_reason
from loomwright.checks.rule import Work
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.reference.limits import Limit, limit
from loomwright.rig.model import Rig


def judged_loads(work: Work) -> Iterator[tuple[CommandAnswer, LoadAnswer]]:
    """Yield each load whose drop says something, under each command that means it to be on.

    A battery that charges straight from the vehicle is left out: it takes whatever the wire
    lets through, so its drop is always the difference of the two batteries.
    """
    for case in cases(work, NOMINAL):
        for load in case.loads:
            if not load.commanded or not _is_judged(work.rig, load):
                continue
            if not is_dead_for_a_known_reason(work, case, load):
                yield case, load


def drop_budget(rig: Rig, load: LoadAnswer) -> Limit:
    """Return the limit of the drop to a load and back, as a share of the nominal voltage."""
    if load.kind == "brake":
        return limit("drop-brakes")
    if load.kind == "battery" or _is_electronics(rig, load):
        return limit("drop-critical")
    return limit("drop-lamps")


def _is_judged(rig: Rig, load: LoadAnswer) -> bool:
    if load.kind == "battery":
        battery = rig.trailer.battery
        return battery is not None and battery.charger_power_w is not None
    return load.kind in ("lamp", "brake", "appliance")


def _is_electronics(rig: Rig, load: LoadAnswer) -> bool:
    return load.kind == "appliance" and any(
        appliance.law == "constant-power" and load.name.startswith(appliance.name)
        for appliance in rig.trailer.appliances
    )
