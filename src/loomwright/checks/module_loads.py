"""What a vehicle's trailer module has to drive, circuit by circuit."""

from __future__ import annotations

from loomwright.checks.readings import NOMINAL, is_dead_for_a_known_reason, lit
from loomwright.checks.rule import Work
from loomwright.rig.model import SocketFeed


def module_currents(work: Work) -> dict[str, tuple[float, str]]:
    """Return for each lamp circuit the largest current and its command, by function. [A]

    Empty where no module drives the trailer's lamps, or a powered converter stands between.
    """
    rig = work.rig
    powered = rig.converter is not None and rig.converter.powered
    if rig.vehicle.socket_feed is not SocketFeed.MODULE or powered:
        return {}
    sums: dict[tuple[str, str], float] = {}
    for case, load in lit(work, NOMINAL):
        if not is_dead_for_a_known_reason(work, case, load):
            key = load.function, case.command
            sums[key] = sums.get(key, 0.0) + load.current_a
    largest: dict[str, tuple[float, str]] = {}
    for (function, command), current_a in sums.items():
        largest[function] = max(largest.get(function, (0.0, "")), (current_a, command))
    return largest
