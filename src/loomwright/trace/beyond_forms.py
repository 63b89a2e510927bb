"""What the form of a fault does to its circuit, where no network says it: by common sense.

Beliefs, not measurements: each says which words are to be expected of a lamp, a brake, a message
under a command that uses the faulty circuit. All are opinion (common practice).
"""

from __future__ import annotations

from loomwright.trace.beyond_words import Belief

OPEN = frozenset({"open", "missing"})
POOR = frozenset({"high_resistance", "undersized"})
LOOSE = frozenset({"intermittent_open"})
SHORT = frozenset({"short_to_ground"})
SHORT_AT_TIMES = frozenset({"intermittent_short"})

LIT: dict[str, Belief] = {
    "open": {"off": 0.92, "glow": 0.03, "wrong": 0.05},
    "missing": {"off": 0.97, "wrong": 0.03},
    "high_resistance": {
        "off": 0.42,
        "dim": 0.33,
        "intermittent": 0.12,
        "flicker": 0.08,
        "normal": 0.05,
    },
    "undersized": {"dim": 0.5, "normal": 0.5},
    "intermittent_open": {"intermittent": 0.5, "off": 0.3, "flicker": 0.2},
    "latched_off": {"off": 0.75, "intermittent": 0.25},
    "logic": {"off": 0.4, "normal": 0.6},
    "short_to_ground": {"off": 0.85, "dim": 0.05, "intermittent": 0.1},
    "intermittent_short": {"off": 0.45, "normal": 0.3, "intermittent": 0.25},
    "short_to_circuit": {"normal": 0.55, "wrong": 0.25, "dim": 0.1, "off": 0.1},
    "leakage": {"normal": 0.7, "dim": 0.1, "flicker": 0.1, "wrong": 0.1},
    "swapped": {"off": 0.7, "wrong": 0.3},
    "reversed": {"off": 1.0},
    "wrong_function": {"off": 0.5, "wrong": 0.4, "normal": 0.1},
    "wrong_bulb": {"normal": 0.6, "wrong": 0.2, "bright": 0.2},
    "bulb_internal": {"normal": 0.6, "wrong": 0.2, "dim": 0.2},
    "wrong_voltage": {"bright": 0.4, "dim": 0.3, "off": 0.3},
    "low_resistance": {"normal": 1.0},
}
"""A lamp that is commanded through the faulty circuit."""

BRAKING: dict[str, Belief] = {
    "open": {"off": 0.85, "weak": 0.1, "intermittent": 0.05},
    "missing": {"off": 1.0},
    "high_resistance": {"weak": 0.5, "intermittent": 0.2, "off": 0.2, "grabby": 0.1},
    "undersized": {"weak": 0.8, "normal": 0.2},
    "intermittent_open": {"intermittent": 0.55, "weak": 0.2, "off": 0.2, "grabby": 0.05},
    "short_to_ground": {"off": 0.4, "weak": 0.35, "intermittent": 0.1, "normal": 0.15},
    "intermittent_short": {"intermittent": 0.4, "weak": 0.3, "normal": 0.15, "off": 0.15},
    "short_to_circuit": {"locked": 0.5, "normal": 0.3, "weak": 0.2},
    "leakage": {"grabby": 0.3, "weak": 0.25, "normal": 0.25, "locked": 0.2},
    "low_resistance": {"grabby": 0.4, "normal": 0.4, "weak": 0.2},
    "mechanical": {"weak": 0.8, "grabby": 0.1, "normal": 0.1},
    "stuck_on": {"locked": 0.9, "normal": 0.1},
    "swapped": {"off": 0.5, "locked": 0.5},
    "wrong_function": {"off": 0.5, "weak": 0.3, "normal": 0.2},
    "logic": {"off": 0.4, "weak": 0.3, "normal": 0.3},
    "latched_off": {"off": 1.0},
}
"""Every brake, where the fault is in the common part of the brake circuit."""

ONE_BRAKE: dict[str, Belief] = {
    "open": {"weak": 0.5, "normal": 0.4, "grabby": 0.1},
    "intermittent_short": {"weak": 0.35, "intermittent": 0.35, "normal": 0.3},
    "short_to_ground": {"weak": 0.45, "off": 0.3, "normal": 0.25},
    "low_resistance": {"grabby": 0.5, "normal": 0.4, "weak": 0.1},
    "mechanical": {"weak": 0.85, "normal": 0.15},
    "undersized": {"weak": 0.8, "normal": 0.2},
    "wrong_function": {"weak": 0.9, "normal": 0.1},
    "high_resistance": {"weak": 0.4, "intermittent": 0.25, "normal": 0.2, "grabby": 0.15},
}
"""All brakes together, where the fault is at one wheel or axle."""

MESSAGE: dict[str, Belief] = {
    "open": {"no_trailer": 0.9, "off": 0.05, "fault": 0.05},
    "missing": {"no_trailer": 0.95, "off": 0.05},
    "high_resistance": {"no_trailer": 0.45, "connected": 0.35, "fault": 0.2},
    "undersized": {"connected": 1.0},
    "intermittent_open": {
        "no_trailer": 0.55,
        "intermittent": 0.15,
        "fault": 0.15,
        "connected": 0.15,
    },
    "short_to_ground": {"overload": 0.7, "fault": 0.25, "no_trailer": 0.05},
    "intermittent_short": {"overload": 0.45, "fault": 0.25, "no_trailer": 0.1, "connected": 0.2},
    "short_to_circuit": {"overload": 0.35, "fault": 0.25, "connected": 0.4},
    "leakage": {"fault": 0.3, "overload": 0.1, "no_trailer": 0.1, "connected": 0.5},
    "low_resistance": {"overload": 0.4, "connected": 0.6},
    "mechanical": {"connected": 1.0},
    "stuck_on": {"connected": 0.5, "fault": 0.2, "on": 0.3},
    "swapped": {"overload": 0.3, "fault": 0.2, "no_trailer": 0.4, "connected": 0.1},
    "wrong_function": {"connected": 0.6, "no_trailer": 0.3, "fault": 0.1},
    "logic": {"no_trailer": 0.4, "connected": 0.6},
    "latched_off": {"off": 0.5, "fault": 0.5},
}
"""The controller, where the fault is in the common part of the brake circuit."""

ONE_MESSAGE: dict[str, Belief] = MESSAGE | {
    "open": {"connected": 0.8, "no_trailer": 0.15, "fault": 0.05},
    "high_resistance": {"connected": 0.45, "no_trailer": 0.4, "fault": 0.15},
    "wrong_function": {"connected": 0.9, "no_trailer": 0.1},
}
"""The controller, where the fault is at one wheel or axle."""

CHARGING: dict[str, Belief] = {
    "open": {"off": 0.95, "weak": 0.05},
    "missing": {"off": 1.0},
    "high_resistance": {"weak": 0.6, "off": 0.4},
    "undersized": {"weak": 0.85, "normal": 0.15},
    "intermittent_open": {"off": 0.4, "intermittent": 0.3, "weak": 0.3},
    "short_to_ground": {"off": 0.95, "weak": 0.05},
    "intermittent_short": {"off": 0.6, "intermittent": 0.4},
    "latched_off": {"off": 1.0},
    "logic": {"off": 0.7, "weak": 0.3},
    "reversed": {"off": 1.0},
    "swapped": {"off": 0.5, "wrong": 0.5},
    "leakage": {"weak": 0.4, "normal": 0.6},
    "wrong_function": {"off": 0.7, "wrong": 0.3},
    "short_to_circuit": {"normal": 0.7, "weak": 0.3},
}
"""What charges the trailer's battery."""

FUSE: dict[str, Belief] = {
    "short_to_ground": {"blown": 0.9, "whole": 0.1},
    "intermittent_short": {"blown": 0.85, "whole": 0.15},
    "reversed": {"blown": 0.8, "whole": 0.2},
    "short_to_circuit": {"blown": 0.25, "whole": 0.75},
    "swapped": {"blown": 0.15, "whole": 0.85},
    "leakage": {"blown": 0.1, "whole": 0.9},
}
"""The fuse of the faulty circuit."""

WHOLE: Belief = {"whole": 0.94, "blown": 0.06}
"""A fuse that the fault has nothing to do with; people also find fuses blown long ago."""

QUIET: Belief = {"connected": 0.95, "no_trailer": 0.03, "fault": 0.02}
"""A controller or a dash that has nothing to say."""

GROUND_LIT: dict[str, Belief] = {
    "open": {"off": 0.6, "wrong": 0.18, "glow": 0.08, "dim": 0.14},
    "high_resistance": {
        "dim": 0.42,
        "off": 0.22,
        "normal": 0.12,
        "wrong": 0.1,
        "flicker": 0.07,
        "intermittent": 0.07,
    },
    "undersized": {"normal": 0.6, "dim": 0.4},
    "intermittent_open": {"intermittent": 0.45, "off": 0.3, "flicker": 0.15, "wrong": 0.1},
    "swapped": {"wrong": 0.7, "off": 0.3},
}
"""A lamp whose return, shared with all others, is at fault."""

GROUND_BRAKING: dict[str, Belief] = {
    "open": {"off": 0.5, "weak": 0.3, "normal": 0.2},
    "high_resistance": {"weak": 0.55, "normal": 0.25, "off": 0.1, "intermittent": 0.1},
    "undersized": {"weak": 0.6, "normal": 0.4},
    "intermittent_open": {"intermittent": 0.5, "weak": 0.3, "normal": 0.2},
}
"""Brakes whose return is shared with the lamps and at fault."""

GROUND_MESSAGE: dict[str, Belief] = {
    "open": {"no_trailer": 0.6, "connected": 0.35, "fault": 0.05},
    "high_resistance": {"no_trailer": 0.35, "connected": 0.55, "fault": 0.1},
    "undersized": {"connected": 0.9, "fault": 0.1},
    "intermittent_open": {"no_trailer": 0.5, "connected": 0.3, "fault": 0.2},
}
"""The controller, where the return of brakes and lamps is at fault."""
