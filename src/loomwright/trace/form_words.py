"""Forms of faults in words, and what mends them."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

SIZES_OHM: Final = (0.3, 1.0, 3.0, 10.0, 100.0)
"""Sizes in which a poor contact is kept apart: each shows otherwise. [ohm]"""

THIN_OHM: Final = 0.3
"""What a wire too thin for its length adds, 0.1 to 0.5 ohm. [ohm] Common practice."""

SHORT_OHM: Final = 0.05
"""A chafed wire on bare metal, a bridge of strands. [ohm]"""

BRIDGED_FILAMENTS_OHM: Final = 0.5
"""A fallen filament across the other, 0.3 to 2 ohm. [ohm] Common practice."""

LOST_TURNS_OHM: Final = 4.0
"""Across a magnet that has lost half of its turns, about. [ohm] From memory."""

WET_OHM: Final = 200.0
"""Water across terminals, 20 ohm to 5 kohm. [ohm] Common practice."""

LEAK_OHM: Final = 50e3
"""Leak of a module's output that is off, 10 to 500 kohm. [ohm] Common practice."""

FORM_WORDS: Final = {
    "open": "open",
    "missing": "never connected",
    "high_resistance": "poor contact",
    "intermittent_open": "loose, comes and goes",
    "short_to_ground": "shorted to ground",
    "intermittent_short": "touches ground now and then",
    "short_to_circuit": "touches another circuit",
    "swapped": "exchanged",
    "wrong_function": "wired for the wrong function",
    "bulb_internal": "filaments bridged",
    "wrong_bulb": "wrong bulb",
    "leakage": "leaks, wet",
    "stuck_on": "stuck on",
    "latched_off": "shut down after a short",
    "logic": "held off by its logic",
    "undersized": "too thin for its length",
    "low_resistance": "lost turns",
    "mechanical": "worn or out of adjustment",
    "reversed": "the wrong way round",
}

BETTER_WORDS: Final = {
    ("vehicle.fuse", "open"): "blown",
    ("vehicle.fuse", "missing"): "never fitted",
    ("trailer.lamp.bulb", "open"): "burnt out",
    ("trailer.brake.magnet", "open"): "winding open",
    ("trailer.brake.magnet", "short_to_ground"): "winding shorted",
    ("coupling", "high_resistance"): "dirty or spread contact",
    ("trailer.breakaway", "stuck_on"): "switch closed, or pin out",
}

REPAIRS: Final = {
    "open": "find the break under load, make the joint or wire anew, seal it",
    "missing": "connect it, and write down what it is",
    "high_resistance": "clean it or make it anew, seal it; the drop across it must be under 0.1 V",
    "intermittent_open": "move it while a helper watches; make it anew, clamp the cable",
    "short_to_ground": "find the chafe, a lamp in place of the fuse; repair, sleeve, clip clear",
    "intermittent_short": "look where it rubs or was screwed through; repair, sleeve, clip clear",
    "short_to_circuit": "part the two, cut back the strands, insulate",
    "swapped": "exchange the two where they were mixed, and label them",
    "wrong_function": "wire by function, not by colour; test each pin",
    "bulb_internal": "new bulb of the marked kind",
    "wrong_bulb": "fit the bulb that the lamp is marked for",
    "leakage": "dry it, clean it, let water drain, seal it",
    "stuck_on": "renew the relay, switch or module that stays on",
    "latched_off": "mend the short first, then switch the key off and on",
    "logic": "meet its conditions, or set it as its maker says; write down what is normal",
    "undersized": "lay a wire of the right size, feed and return alike",
    "low_resistance": "new magnet, and its partner if it is as old",
    "mechanical": "adjust or renew shoes, magnet and drum",
    "reversed": "connect it the right way round",
}

BETTER_REPAIRS: Final = {
    "vehicle.fuse": "find what blew it, then fit a fuse of the same rating; never a bigger one",
    "trailer.lamp.bulb": "new bulb of the marked kind, clean holder",
    "trailer.ground.main": "ground wire on bare metal with a ring, sealed",
    "trailer.ground.lamp": "own ground wire to this lamp, sealed joint",
    "vehicle.ground": "ring on bare frame, sealed, as thick as the thickest feed",
}


ONE_WIRE: Final = re.compile(r"\b(left|right) stop turn")
TWICE: Final = re.compile(r"\b(left|right)((?: \w+)*) \1 stop/turn")


@lru_cache(maxsize=4096)
def spoken_name(text: str) -> str:
    """Return the name of a part as it is spoken: "left rear stop/turn", the side told once."""
    return TWICE.sub(r"\1\2 stop/turn", ONE_WIRE.sub(r"\1 stop/turn", text))


def form_words(place: str, form: str, size_ohm: float | None = None) -> str:
    """Return a form of fault in the words for its place, with its size."""
    words = BETTER_WORDS.get((place, form), FORM_WORDS[form])
    return words if size_ohm is None else f"{words}, {size_ohm:g} ohm"


def repair_words(place: str, form: str) -> str:
    """Return what mends a fault."""
    if form in ("open", "missing", "high_resistance") and place in BETTER_REPAIRS:
        return BETTER_REPAIRS[place]
    return REPAIRS[form]
