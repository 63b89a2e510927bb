"""How usual each form of fault is in each kind of place: a weak opinion of the trade.

No count of faults is published, and those that are written up are the hard ones. So the
figures only say very common, common, occasional or rare, and a few readings overrule them.
Standing: common practice.
"""

from __future__ import annotations

from typing import Final

VERY_COMMON: Final = 1.0
COMMON: Final = 0.4
OCCASIONAL: Final = 0.12
RARE: Final = 0.03

UNSAID: Final = 0.35
"""Share of what comes and goes that is not told to come and go, nor caught at it."""

USUAL: Final[dict[str, dict[str, float]]] = {
    "vehicle.fuse": {"open": VERY_COMMON, "missing": OCCASIONAL, "high_resistance": RARE},
    "vehicle.relay": {"open": OCCASIONAL, "stuck_on": RARE, "high_resistance": RARE},
    "vehicle.module": {
        "latched_off": COMMON,
        "open": OCCASIONAL,
        "logic": COMMON,
        "leakage": OCCASIONAL,
        "stuck_on": RARE,
    },
    "vehicle.converter": {
        "open": COMMON,
        "missing": OCCASIONAL,
        "short_to_circuit": OCCASIONAL,
        "high_resistance": OCCASIONAL,
    },
    "vehicle.stop_switch": {"open": OCCASIONAL, "stuck_on": RARE, "high_resistance": RARE},
    "vehicle.controller": {
        "open": OCCASIONAL,
        "stuck_on": OCCASIONAL,
        "logic": COMMON,
        "high_resistance": OCCASIONAL,
        "wrong_function": OCCASIONAL,
    },
    "vehicle.harness": {
        "open": OCCASIONAL,
        "high_resistance": RARE,
        "intermittent_open": OCCASIONAL,
        "short_to_ground": OCCASIONAL,
        "intermittent_short": RARE,
        "short_to_circuit": RARE,
        "leakage": COMMON,
        "undersized": COMMON,
    },
    "vehicle.splice": {
        "high_resistance": VERY_COMMON,
        "open": COMMON,
        "intermittent_open": COMMON,
        "swapped": OCCASIONAL,
        "wrong_function": OCCASIONAL,
    },
    "vehicle.socket.terminal": {
        "intermittent_open": COMMON,
        "open": OCCASIONAL,
        "high_resistance": OCCASIONAL,
        "short_to_circuit": OCCASIONAL,
        "swapped": RARE,
        "leakage": OCCASIONAL,
    },
    "vehicle.ground": {
        "high_resistance": VERY_COMMON,
        "open": COMMON,
        "intermittent_open": OCCASIONAL,
        "undersized": COMMON,
    },
    "coupling": {
        "high_resistance": VERY_COMMON,
        "open": COMMON,
        "intermittent_open": COMMON,
    },
    "adapter": {
        "swapped": COMMON,
        "open": OCCASIONAL,
        "high_resistance": OCCASIONAL,
        "intermittent_open": OCCASIONAL,
    },
    "trailer.plug.terminal": {
        "intermittent_open": VERY_COMMON,
        "open": COMMON,
        "high_resistance": OCCASIONAL,
        "swapped": COMMON,
        "wrong_function": COMMON,
        "short_to_circuit": OCCASIONAL,
    },
    "trailer.cord": {
        "intermittent_open": COMMON,
        "open": COMMON,
        "short_to_ground": COMMON,
        "short_to_circuit": OCCASIONAL,
    },
    "trailer.junction_box": {
        "high_resistance": VERY_COMMON,
        "open": COMMON,
        "missing": COMMON,
        "intermittent_open": COMMON,
        "leakage": COMMON,
    },
    "trailer.ground.main": {
        "open": VERY_COMMON,
        "high_resistance": VERY_COMMON,
        "intermittent_open": COMMON,
    },
    "trailer.ground.frame": {
        "high_resistance": VERY_COMMON,
        "open": COMMON,
        "intermittent_open": COMMON,
    },
    "trailer.ground.lamp": {
        "open": VERY_COMMON,
        "high_resistance": VERY_COMMON,
        "intermittent_open": COMMON,
    },
    "trailer.harness": {
        "short_to_ground": COMMON,
        "intermittent_short": OCCASIONAL,
        "short_to_circuit": OCCASIONAL,
        "high_resistance": COMMON,
        "open": COMMON,
        "intermittent_open": OCCASIONAL,
        "undersized": OCCASIONAL,
        "swapped": COMMON,
    },
    "trailer.lamp.bulb": {
        "open": VERY_COMMON,
        "bulb_internal": OCCASIONAL,
        "wrong_bulb": COMMON,
    },
    "trailer.lamp.led": {"open": COMMON, "reversed": OCCASIONAL, "leakage": COMMON},
    "trailer.lamp.socket": {
        "high_resistance": VERY_COMMON,
        "open": COMMON,
        "intermittent_open": COMMON,
        "short_to_ground": OCCASIONAL,
    },
    "trailer.lamp.wiring": {
        "open": COMMON,
        "swapped": COMMON,
        "short_to_circuit": RARE,
        "short_to_ground": OCCASIONAL,
    },
    "trailer.brake.magnet": {
        "short_to_ground": COMMON,
        "open": COMMON,
        "low_resistance": OCCASIONAL,
        "mechanical": VERY_COMMON,
    },
    "trailer.brake.wire": {
        "intermittent_short": VERY_COMMON,
        "open": COMMON,
        "short_to_ground": COMMON,
        "undersized": COMMON,
        "intermittent_open": COMMON,
        "wrong_function": RARE,
    },
    "trailer.brake.joint": {
        "high_resistance": VERY_COMMON,
        "open": COMMON,
        "intermittent_open": COMMON,
    },
    "trailer.brake.ground": {
        "high_resistance": VERY_COMMON,
        "open": COMMON,
        "intermittent_open": OCCASIONAL,
    },
    "trailer.breakaway": {"stuck_on": COMMON, "open": COMMON, "short_to_ground": OCCASIONAL},
    "trailer.charge": {
        "open": COMMON,
        "reversed": OCCASIONAL,
        "short_to_ground": COMMON,
        "high_resistance": OCCASIONAL,
    },
}


def usual(place: str, form: str) -> float:
    """Return how usual a form is in a kind of place, 1 for very common; 0 if it is not known."""
    return USUAL.get(place, {}).get(form, 0.0)
