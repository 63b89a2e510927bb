"""Which loads a person means by "left rear", "markers", "tail lamps", "brakes of axle 2"."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from loomwright.electrics.places import LoadPlace
from loomwright.electrics.wiring import Wiring
from loomwright.rig.model import Lamp
from loomwright.trace.homes import circuit_of

SAID: Final[Mapping[str, str]] = {
    "truck": "vehicle",
    "car": "vehicle",
    "van": "vehicle",
    "tow": "vehicle",
    "running": "tail",
    "position": "tail",
    "tails": "tail",
    "park": "tail",
    "indicator": "turn",
    "signal": "turn",
    "blinker": "turn",
    "flasher": "turn",
    "brake": "brakes",
    "magnet": "brakes",
    "magnets": "brakes",
    "wheel": "brakes",
    "clearance": "marker",
    "markers": "marker",
    "clearances": "marker",
    "number": "plate",
    "licence": "plate",
    "license": "plate",
    "stops": "stop",
    "backup": "reverse",
    "reversing": "reverse",
    "l": "left",
    "r": "right",
    "driver": "left",
    "curb": "right",
    "street": "left",
}

IDLE: Final = frozenset(
    {"lamp", "lamps", "light", "lights", "all", "the", "of", "at", "on", "side", "both"}
    | {"everything", "trailer", "any", "and", "one", "rear"}
)

DEEDS: Final = frozenset(
    {"vehicle", "tail", "stop", "turn", "left", "right", "brakes", "marker", "plate"}
    | {"reverse", "fog", "front", "middle", "centre", "battery"}
)


@dataclass(frozen=True, slots=True)
class Meant:
    """What a name means on this rig.

    `loads` numbers them; `phantom` names circuits of the vehicle's own lamps that its network
    does not have, since they hang on wires of their own.
    """

    loads: tuple[int, ...]
    phantom: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.loads or self.phantom)


SIDES: Final = frozenset({"left", "right"})
SMALL: Final = frozenset({"marker", "plate"})

NOTHING: Final = Meant(())


def meant_by(wiring: Wiring, name: str) -> Meant:
    """Return the loads that a name means: one load exactly, else a group.

    Parameters
    ----------
    wiring : Wiring
        The rig.
    name : str
        Name of a load, or words for a group.
    """
    asked = name.strip().casefold()
    for n, load in enumerate(wiring.loads):
        if load.name.casefold() == asked or load.element == name:
            return Meant((n,))
    words = _words(asked)
    strange = words - DEEDS - IDLE - {w for w in words if w.isdigit() or w == "axle"}
    named = _by_lamp(wiring, asked, words)
    if named:
        return Meant(named)
    if strange:
        return NOTHING
    return _group(wiring, words)


def _words(asked: str) -> frozenset[str]:
    found = re.findall(r"[a-z]+|\d+", asked.replace("stop/turn", "stop turn"))
    if "stop" in found and "turn" in found:
        found = [w for w in found if w not in ("stop", "turn")] + ["signals"]
    words = {SAID.get(w, w) for w in found}
    if "brakes" in words and ("lamp" in words or "lamps" in words or "lights" in words):
        words = (words - {"brakes"}) | {"stop"}
    if "signals" in words:
        words = (words - {"signals"}) | {"stop_or_turn"}
    return frozenset(words - {"stop_or_turn"}) | ({"turn"} if "stop_or_turn" in words else set())


def _by_lamp(wiring: Wiring, asked: str, words: frozenset[str]) -> tuple[int, ...]:
    """Loads of a lamp housing named as in the job, with a function perhaps."""
    lamps = [lamp.name for lamp in wiring.rig.trailer.lamps]
    exact = [name for name in lamps if name.casefold() == asked]
    if not exact:
        exact = [n for n in lamps if asked.startswith(n.casefold() + " ")]
        exact = sorted(exact, key=len)[-1:]
    if not exact:
        return ()
    rest = _words(asked.removeprefix(exact[0].casefold()))
    found = [n for n, load in enumerate(wiring.loads) if _lamp_name(wiring, load) == exact[0]]
    narrowed = [n for n in found if _does(wiring.loads[n], rest)]
    return tuple(narrowed or found)


def _does(load: LoadPlace, words: frozenset[str]) -> bool:
    wanted = words & {"tail", "stop", "turn", "reverse", "fog"}
    return not wanted or bool(wanted & _deeds(load.function))


def _deeds(function: str) -> frozenset[str]:
    """What a light of a function does."""
    circuit = circuit_of(function)
    if circuit in ("left", "right"):
        both = {"turn", "stop"} if function.endswith("stop_turn") else {"turn"}
        return frozenset(both)
    return frozenset({circuit})


def _group(wiring: Wiring, words: frozenset[str]) -> Meant:
    of_vehicle = "vehicle" in words
    found = [n for n, load in enumerate(wiring.loads) if _belongs(wiring, load, words)]
    if of_vehicle:
        there = {circuit_of(wiring.loads[n].function) for n in found}
        wanted = words & {"tail", "stop", "turn", "left", "right", "reverse", "fog"}
        phantom = [
            circuit
            for circuit in dict.fromkeys(circuit_of(f.function) for f in wiring.rig.vehicle.feeds)
            if circuit not in there
            and circuit not in ("brake", "charge")
            and (not wanted or circuit in _circuits(wanted))
        ]
        return Meant(tuple(found), tuple(phantom))
    return Meant(tuple(found))


def _circuits(words: frozenset[str]) -> frozenset[str]:
    if words & {"left", "right"}:
        return words & {"left", "right"}
    both = {"left", "right"} if "turn" in words else set()
    return frozenset((words - {"turn"}) | both | ({"left", "right"} if "stop" in words else set()))


def _belongs(wiring: Wiring, load: LoadPlace, words: frozenset[str]) -> bool:
    """Whether a load is one of those that words name."""
    sides = words & SIDES
    if not _right_kind(load, words) or (sides and side_of(wiring, load) not in sides):
        return False
    if load.kind == "brake":
        axle = next((w for w in words if w.isdigit()), None)
        return axle is None or f"axle {axle}" in load.name
    small = small_kind(wiring, load)
    if words & SMALL:
        return small in words
    return _is_there(load, words, is_small=bool(small)) and _does(load, words)


def _is_there(load: LoadPlace, words: frozenset[str], *, is_small: bool) -> bool:
    """Whether a lamp is where words say; a marker or a plate lamp is no tail lamp."""
    if "tail" in words and is_small:
        return False
    if words & {"front", "middle"}:
        return any(word in load.name for word in words & {"front", "middle"})
    if "rear" not in words:
        return True
    ahead = "front" in load.name or "middle" in load.name
    return not ahead and not (is_small and words & SIDES)


def _right_kind(load: LoadPlace, words: frozenset[str]) -> bool:
    if "vehicle" in words:
        return load.kind == "vehicle lamp"
    if "brakes" in words:
        return load.kind == "brake"
    if "battery" in words:
        return load.kind == "battery"
    return load.kind == "lamp"


@lru_cache(maxsize=4096)
def _lamp(lamps: tuple[Lamp, ...], name: str) -> Lamp | None:
    return next((lamp for lamp in lamps if lamp.name == name), None)


def _lamp_name(wiring: Wiring, load: LoadPlace) -> str:
    parts = wiring.parts[load.element].ref.split(".")
    return parts[2] if parts[:2] == ["trailer", "lamp"] else ""


def side_of(wiring: Wiring, load: LoadPlace) -> str:
    """Return the side a load is on: left, right or centre."""
    lamp = _lamp(wiring.rig.trailer.lamps, _lamp_name(wiring, load))
    if lamp is not None:
        return lamp.side
    for brake in wiring.rig.trailer.brakes:
        if brake.name == load.name:
            return brake.side
    circuit = circuit_of(load.function)
    return circuit if circuit in ("left", "right") else "centre"


def small_kind(wiring: Wiring, load: LoadPlace) -> str:
    """Return marker or plate for such a lamp, nothing for any other."""
    lamp = _lamp(wiring.rig.trailer.lamps, _lamp_name(wiring, load))
    if lamp is None:
        return ""
    kinds = " ".join(lamp.counts_as)
    if "tail_lamp" in lamp.counts_as or "stop_lamp" in lamp.counts_as:
        return ""
    if "plate" in kinds or "plate" in lamp.name:
        return "plate"
    is_marker = any(w in kinds or w in lamp.name for w in ("marker", "clearance", "identification"))
    return "marker" if is_marker else ""
