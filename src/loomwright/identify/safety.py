"""What may be probed, with what, after what: the order that keeps wires, meter and people whole.

Volts with a high impedance may be read on any wire. Ohms only on a wire that read nothing at
rest: a live wire spoils the reading or the meter. The test by drop feeds the wire, so only one
that read low ohms takes it. A test lamp loads the wire: on loose wires only one that is known
to be a feed takes it; the contacts of a trailer socket are made for it.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from loomwright.identify.behaviour import LEAVE_ALONE, function_rows
from loomwright.identify.belief import Belief
from loomwright.identify.commands import DROP, OHMS
from loomwright.identify.reading import Reading
from loomwright.identify.seen import Seen, Tester
from loomwright.identify.sight import Probe
from loomwright.reference.cautions import cautions

KNOWN_FEED = 0.95
MOST_STRANGE = 0.02
"""A lamp may load a wire that is a feed by 95 %, and one of the vehicle's own by 2 % at most."""

CAUTION_KEYS = ("chock", "srs", "hv-orange", "testlamp", "two-batteries")
MODULE_WIRES = (
    "Leave thin twisted pairs and wires into a control unit alone: they carry data or switch "
    "a module. If one is probed, only with the high-impedance meter or LED tester; never feed "
    "it, ground it or load it."
)
NEVER_GROUND = (
    "Never touch a lamp wire to ground to see what happens: some drivers have no fuse behind them."
)
NO_PIERCING = "Probe from the back of the connector; seal every hole that a probe made."
REFERENCE = (
    "Clip the black lead on the battery's negative post, never on the hitch or the trailer's "
    "frame: with an open ground a dead wire looks live."
)


def cautions_before() -> tuple[str, ...]:
    """Return what to heed before the first probe."""
    known = {row.key: row.says for row in cautions()}
    kept = tuple(known[key] for key in CAUTION_KEYS)
    return (*kept, MODULE_WIRES, NEVER_GROUND, REFERENCE, NO_PIERCING)


def is_allowed(belief: Belief, readings: tuple[Reading, ...], probe: Probe, wire: str) -> bool:
    """Return whether a probe of a wire is safe after these readings."""
    if probe.command == OHMS:
        return _last(readings, "rest", wire) is Seen.NOTHING and not _was_live(readings, wire)
    if probe.command == DROP:
        dead = is_allowed(belief, readings, Probe(OHMS, Tester.METER), wire)
        return dead and _last(readings, "ohms", wire) is Seen.LOW
    if probe.tester is not Tester.LAMP:
        return True
    if belief.bundle.at_socket:
        return _strange(belief, wire) <= 10 * MOST_STRANGE
    return _feed(belief, wire) >= KNOWN_FEED and _strange(belief, wire) <= MOST_STRANGE


def _feed(belief: Belief, wire: str) -> float:
    """Return the probability that a wire is a feed for some load."""
    place = [each.key for each in belief.bundle.wires].index(wire)
    return float(belief.by_wire[place, _feeds(belief.functions)].sum())


@lru_cache(maxsize=64)
def _feeds(functions: tuple[str, ...]) -> list[bool]:
    known = function_rows()
    return [known[each].kind in ("lamp", "brake", "supply") for each in functions]


def _strange(belief: Belief, wire: str) -> float:
    return belief.probability(wire, LEAVE_ALONE)


def _last(readings: tuple[Reading, ...], command: str, wire: str) -> Seen | None:
    found = [each.seen for each in readings if (each.command, each.wire) == (command, wire)]
    return found[-1] if found else None


def _was_live(readings: tuple[Reading, ...], wire: str) -> bool:
    """Return whether the wire ever carried volts by itself with everything off."""
    return any(
        each.seen in (Seen.STEADY, Seen.PARTIAL, Seen.PULSED, Seen.FLASHING)
        for each in readings
        if (each.command, each.wire) == ("rest", wire)
    ) and not _twice_nothing(readings, wire)


def _twice_nothing(readings: tuple[Reading, ...], wire: str) -> bool:
    """Return whether the last two readings at rest were nothing: an earlier one was mistaken."""
    found = [each.seen for each in readings if (each.command, each.wire) == ("rest", wire)]
    return found[-2:] == [Seen.NOTHING, Seen.NOTHING]


def allowed(
    belief: Belief, readings: tuple[Reading, ...], probes: tuple[Probe, ...]
) -> NDArray[np.bool_]:
    """Return which probe of which wire is safe, shape (probes, wires)."""
    found = np.empty((len(probes), len(belief.bundle.wires)), bool)
    for place, wire in enumerate(belief.bundle.wires):
        verdicts: dict[str, bool] = {}
        for number, probe in enumerate(probes):
            kind = probe.command.key if probe.is_ground_test else probe.tester
            if kind not in verdicts:
                verdicts[kind] = is_allowed(belief, readings, probe, wire.key)
            found[number, place] = verdicts[kind]
    return found
