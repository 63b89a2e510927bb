"""The ways in which a kind of fault can be there: on which circuit, on which side, how far."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Literal

from loomwright.reference.fault_kinds import FaultKind
from loomwright.trace.model import Side

Reach = Literal["all", "one"]

ANY = ("tail", "left", "right", "stop", "brake", "charge", "ground")
ONE_LAMP = ("trailer.lamp.", "trailer.ground.lamp")
ONE_WHEEL = ("trailer.brake.magnet", "trailer.brake.wire", "trailer.brake.joint")
PART_OF_A_RUN = ("trailer.harness",)
SIDED = {"left": "L", "right": "R"}


@dataclass(frozen=True, slots=True)
class Way:
    """One way in which a kind of fault can be there.

    `side` is ``L``, ``R`` or empty where it has none; `reach` is "one" for a fault at one lamp
    or wheel, "all" for one that everything on the circuit feels.
    """

    kind: FaultKind
    circuit: str
    side: str
    reach: Reach
    weight: float

    @property
    def form(self) -> str:
        """Electrical form."""
        return self.kind.form

    @property
    def half(self) -> Side:
        """Which half of the rig it is in."""
        return half_of(self.kind.place)


def half_of(place: str) -> Side:
    """Return the half of the rig that a kind of place is in."""
    if place.startswith("vehicle"):
        return "vehicle"
    return "trailer" if place.startswith("trailer") else "coupling"


@cache
def ways_of(kind: FaultKind) -> tuple[Way, ...]:
    """Return every way a kind of fault can be there; their weights sum to one."""
    found = list(dict.fromkeys(_ways(kind)))
    share = 1.0 / len(found)
    return tuple(Way(kind, circuit, side, reach, share) for circuit, side, reach in found)


def _ways(kind: FaultKind) -> Iterator[tuple[str, str, Reach]]:
    circuits = ANY if "any" in kind.circuits else kind.circuits
    for circuit in circuits:
        if kind.place.startswith(ONE_LAMP):
            yield from _at_a_lamp(circuit)
        elif kind.place.startswith(ONE_WHEEL) and circuit in ("brake", "ground"):
            yield from (("brake", side, "one") for side in ("L", "R"))
            if kind.place == "trailer.brake.joint" or kind.form == "mechanical":
                yield "brake", "", "all"
        elif kind.place.startswith(PART_OF_A_RUN) and circuit in ("tail", "ground"):
            yield from ((circuit, side, "one") for side in ("L", "R"))
            yield circuit, "", "all"
        else:
            yield from _on_a_circuit(kind, circuit)


def _at_a_lamp(circuit: str) -> Iterator[tuple[str, str, Reach]]:
    for name, side in SIDED.items():
        yield (name if circuit in SIDED else circuit), side, "one"


def _on_a_circuit(kind: FaultKind, circuit: str) -> Iterator[tuple[str, str, Reach]]:
    """A signal circuit named on one side only stands for either."""
    if circuit in SIDED:
        both = not set(SIDED) <= {*kind.circuits} and "any" not in kind.circuits
        for name in SIDED if both else (circuit,):
            yield name, SIDED[name], "all"
    else:
        yield circuit, "", "all"
