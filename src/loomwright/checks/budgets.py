"""Which loads have a drop to be judged, where it begins, and how much each may lose."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import NOMINAL, cases, is_dead_for_a_known_reason
from loomwright.checks.rule import Work
from loomwright.electrics.answers import CommandAnswer, LoadAnswer, Rung
from loomwright.electrics.vehicle_side import BRAKE_CONTROLLER
from loomwright.reference.limits import Limit, limit
from loomwright.rig.model import Rig

JUDGED = ("lamp", "brake", "appliance")


def judged_loads(work: Work) -> Iterator[tuple[CommandAnswer, LoadAnswer]]:
    """Yield each load whose drop says something, under each command that means it to be on.

    A battery is left out. Charged straight from the vehicle it takes whatever the wire lets
    through, so its drop is always the difference of the two batteries; a charger before it makes
    up for the drop. CHRG01 tells whether it is charged.
    """
    for case in cases(work, NOMINAL):
        for load in case.loads:
            if not load.commanded or load.kind not in JUDGED:
                continue
            if not is_dead_for_a_known_reason(work, case, load):
                yield case, load


def drop_budget(rig: Rig, load: LoadAnswer) -> Limit:
    """Return the limit of the drop to a load and back, as a share of the nominal voltage."""
    if load.kind == "brake":
        return limit("drop-brakes")
    if load.kind == "battery" or is_electronics(rig, load):
        return limit("drop-critical")
    return limit("drop-lamps")


def lossy(load: LoadAnswer) -> tuple[Rung, ...]:
    """Return the rungs that lose voltage on the way out and home.

    What a step-down converter takes off is its job, so its load's way begins at its output; what
    a brake controller holds back at full output is its own.
    """
    rungs = [rung for rung in load.ladder if rung.part.element != BRAKE_CONTROLLER]
    boxes = [n for n, rung in enumerate(rungs) if rung.part.kind == "converter"]
    return tuple(rungs[boxes[-1] + 1 :] if boxes else rungs)


def lost_v(rungs: tuple[Rung, ...], path: str) -> float:
    """Return what rungs of one path lose together. [V]"""
    return sum(rung.drop_v for rung in rungs if rung.part.path == path)


def is_electronics(rig: Rig, load: LoadAnswer) -> bool:
    """Whether a load holds its power as its voltage falls."""
    return load.kind == "appliance" and any(
        appliance.law == "constant-power" and load.name.startswith(appliance.name)
        for appliance in rig.trailer.appliances
    )
