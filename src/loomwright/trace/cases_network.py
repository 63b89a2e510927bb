"""What the faults of one typical rig show at the places of a case: solved, then put in words.

For each fault of the rig and each observation of a case: how likely that word is said there.
Where a network tells nothing of a place, nothing is returned, and the table of kinds speaks.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from loomwright.trace.cases_network_lamps import of_lamp, of_truck_lamp
from loomwright.trace.cases_network_supply import of_brakes, of_controller, of_fuse, of_socket
from loomwright.trace.cases_read import Seen
from loomwright.trace.cases_stand import SHAKY, Chances, Stand

THERE = 0.5
"""How often a fault that comes and goes is there when somebody looks."""


def chances(stand: Stand, seen: Seen) -> Chances | None:
    """Return how likely each fault of a rig makes an observation, or None if no network tells.

    Parameters
    ----------
    stand : Stand
        The rig with its faults.
    seen : Seen
        The observation.
    """
    if seen.spot.where != "here":
        return None
    tell = TELLERS.get(seen.spot.part)
    told = None if tell is None else tell(stand, seen)
    if told is None:
        return None
    of_fault = told[stand.variant]
    if seen.word in SHAKY:
        return _unsteady(stand, of_fault, float(told[0]))
    mixed = THERE * of_fault + (1.0 - THERE) * told[0]
    return np.where(stand.comes_and_goes, mixed, of_fault)


def _unsteady(stand: Stand, of_fault: Chances, healthy: float) -> Chances:
    """Chance that something flickers or comes and goes: poor joints do it now and then."""
    differs = np.clip((of_fault - healthy) / max(1.0 - healthy, 1e-6), 0.0, 1.0)
    return np.asarray(0.01 + stand.shakes * differs)


Teller = Callable[[Stand, Seen], "Chances | None"]
TELLERS: dict[str, Teller] = {
    "lamp": of_lamp,
    "brakes": of_brakes,
    "controller": of_controller,
    "fuse": of_fuse,
    "socket": of_socket,
    "truck lamp": of_truck_lamp,
}
"""For each part of a rig that a network tells of, what puts its numbers in words."""
