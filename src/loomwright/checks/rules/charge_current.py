"""CHRG01: the charge line does not charge."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import DIM, NOMINAL
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuit
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.quantities import show_capacity, show_current, show_voltage
from loomwright.reference.limits import limit
from loomwright.rig.model import HouseBattery

CODE = "CHRG01"
SOURCE = "charge-line-articles; alternator-articles"

CHARGE = "charge"


def charge_line_useless(work: Work) -> Iterator[Finding]:
    """Flag a trailer battery that gets less than a twentieth of its capacity in amperes.

    Read with the engine running and the lamps off, and again with the alternator at its lowest
    set-point: a managed alternator lowers its voltage to that of a full battery, and then
    nothing flows along a plain wire, however thick. A charger that has shut down for want of
    voltage is flagged as well.
    """
    battery = work.rig.trailer.battery
    if battery is None:
        return
    normal = _reading(work, NOMINAL, battery)
    if normal is None:
        return
    case, load = normal
    least_a = limit("charge-share").share * battery.capacity_ah
    if load.current_a < least_a:
        yield _too_little(work, case, load, battery, least_a)
        return
    lowest = _reading(work, DIM, battery)
    if lowest is not None and not limit("charge-nothing").is_met_by(lowest[1].current_a):
        yield _nothing_left(work, *lowest, battery)


def _reading(
    work: Work, conditions: str, battery: HouseBattery
) -> tuple[CommandAnswer, LoadAnswer] | None:
    if conditions not in work.answers.conditions or CHARGE not in work.answers.commands:
        return None
    case = work.answers.at(CHARGE, conditions)
    return next(((case, load) for load in case.loads if load.name == battery.name), None)


def _too_little(
    work: Work, case: CommandAnswer, load: LoadAnswer, battery: HouseBattery, least_a: float
) -> Finding:
    lost_v = load.supply_drop_v + load.return_drop_v
    return Finding(
        rule=CODE,
        severity=Severity.SHOULD,
        where=battery.name,
        says=f"{capital(battery.name)} of {show_capacity(battery.capacity_ah)} is charged with "
        f"{show_current(max(load.current_a, 0.0))} while driving; {show_current(least_a)} is the "
        f"least worth having. {show_voltage(lost_v)} are lost on the {circuit(load.function)} "
        "and its ground.",
        why="After a day's drive the battery is as empty as before.",
        fix=_mend(battery),
        source=SOURCE,
        value=max(load.current_a, 0.0),
        limit=least_a,
        unit="A",
        station="load",
        command=case.command,
        standing="common practice",
    )


def _nothing_left(
    work: Work, case: CommandAnswer, load: LoadAnswer, battery: HouseBattery
) -> Finding:
    managed = work.rig.vehicle.supply.managed
    plain = battery.charger_power_w is None
    kind = "the managed alternator at its low set-point" if managed else "the engine at idle"
    return Finding(
        rule=CODE,
        severity=Severity.SHOULD if managed and plain else Severity.NOTE,
        where=battery.name,
        says=f"With {kind} nothing is left to charge {battery.name}.",
        why="The charge line works only while the alternator gives its full voltage.",
        fix=_mend(battery)
        if managed and plain
        else "Nothing, if the engine seldom idles with the trailer.",
        source="alternator-articles",
        value=max(load.current_a, 0.0),
        limit=limit("charge-nothing").value,
        unit="A",
        station="load",
        command=case.command,
        standing="common practice",
    )


def _mend(battery: HouseBattery) -> str:
    if battery.charger_power_w is None:
        return (
            "Fit a DC-DC charger at the battery; thicker feed and ground help only where the "
            "alternator holds its voltage."
        )
    return "Run thicker feed and ground to the charger: it stops when its input sags."


RULE = Rule(CODE, "Charge line that does not charge", SOURCE, charge_line_useless)
