"""Mends of batteries: a charger in the trailer, a relay in a feed, a larger breakaway battery."""

from __future__ import annotations

from loomwright.changes.change import Change, Edit
from loomwright.changes.mend_wires import feed_words
from loomwright.checks.readings import NOMINAL
from loomwright.checks.rule import Finding, Work
from loomwright.checks.rules.breakaway_battery import holding_ah
from loomwright.checks.rules.charge_current import CHARGE
from loomwright.checks.words import circuit
from loomwright.electrics.answers import LoadAnswer
from loomwright.electrics.carriers import carrier
from loomwright.quantities import show_capacity, show_current, show_power
from loomwright.reference.fuses import CONTINUOUS_SHARE_MOST
from loomwright.reference.limits import limit
from loomwright.reference.loads import load as load_row
from loomwright.rig.job import Job
from loomwright.rig.model import HouseBattery, Live

LINE_CHARGER = "charger-line"
"""The kind made for a lamp socket's charge wire."""

INPUT_LIMITS_A = (15.0, 12.0)
"""To what such a charger can be set, as its row in the table of loads says."""


def line_charger(finding: Finding, work: Work, job: Job) -> Change | None:
    """Put a charger that limits its input before the trailer battery, if the line carries it.

    It runs only where its input stays above the voltage at which it stops, and where the fuse
    of its feed carries it for hours; elsewhere thicker wire and better contacts come first.
    """
    battery = work.rig.trailer.battery
    reading = _charging(work)
    if battery is None or battery.charger_power_w is not None or reading is None:
        return None
    row, nominal_v = load_row(LINE_CHARGER), work.rig.trailer.nominal_v
    least_a = limit("charge-share").share * battery.capacity_ah
    stops_v = (row.off_below_v or 0.0) * nominal_v / row.at_v
    for input_a in INPUT_LIMITS_A:
        runs = _voltage_v(reading, input_a) > stops_v and input_a >= least_a
        if runs and input_a <= _fused_a(work, battery) * CONTINUOUS_SHARE_MOST:
            edits = (
                Edit("trailer.battery.charger.power", f"{row.typical_w:g} W"),
                Edit("trailer.battery.charger.limit", f"{input_a:g} A"),
            )
            says = (
                f"Fit a DC-DC charger of {show_power(row.typical_w)} at the {battery.name}, set "
                f"to draw no more than {show_current(input_a)}."
            )
            return Change(says, edits)
    return None


def engine_relay(finding: Finding, work: Work, job: Job) -> Change | None:
    """Put a relay that follows the engine into a feed that drains the vehicle's battery."""
    for number, feed in enumerate(job.vehicle.feeds, 1):
        if finding.where == f"vehicle, {circuit(feed.function)}":
            says = (
                f"Put a relay into the {feed_words(feed.function)} that closes only while the "
                "engine runs."
            )
            return Change(says, (Edit(f"vehicle.feed[{number}].live", Live.ENGINE.value),))
    return None


def larger_breakaway(finding: Finding, work: Work, job: Job) -> Change | None:
    """Fit the smallest usual breakaway battery that holds all magnets long enough."""
    capacity_ah = holding_ah(work.rig)
    if work.rig.trailer.breakaway is None or capacity_ah is None:
        return None
    says = (
        f"Fit a breakaway battery of {show_capacity(capacity_ah)}, and test it with the trailer "
        "unplugged."
    )
    return Change(says, (Edit("trailer.breakaway.capacity", f"{capacity_ah:g} Ah"),))


def _charging(work: Work) -> LoadAnswer | None:
    """Return the reading of the trailer battery while driving."""
    case, battery = work.answers.by_case.get((CHARGE, NOMINAL)), work.rig.trailer.battery
    if case is None or battery is None:
        return None
    return next((load for load in case.loads if load.name == battery.name), None)


def _voltage_v(reading: LoadAnswer, input_a: float) -> float:
    """Return what is left at the battery's wires when this much is drawn there. [V]

    What the shared parts drop for others stays; the change of current drops in every part of
    the way out and home.
    """
    way_ohm = sum(rung.resistance_ohm for rung in reading.ladder)
    return reading.voltage_v - (input_a - reading.current_a) * way_ohm


def _fused_a(work: Work, battery: HouseBattery) -> float:
    """Return the least fuse on the way to the battery; infinite if there is none. [A]"""
    vehicle = work.rig.vehicle
    feed = vehicle.feed_for(
        carrier(battery.function, [one.function for one in vehicle.feeds]) or ""
    )
    return float("inf") if feed is None or feed.fuse is None else feed.fuse.rating_a
