"""Readings of one command, looked up by places on the drawing of the run."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from loomwright.drawing.run_plan import LoadMark
from loomwright.electrics.answers import CommandAnswer, FuseAnswer, LoadAnswer
from loomwright.quantities import show_voltage

LIVE_ABOVE_A = 0.005
SHOWN_FROM_V = 0.05
SUPPLY = "vehicle.feed"
CONVERTER_FEED = "converter.feed"


@dataclass(frozen=True, slots=True)
class Readings:
    """What meters would show under one command; without an answer nothing is known."""

    answer: CommandAnswer | None

    def amps(self, ref: str) -> float | None:
        """Greatest current in the conductors of a place; None where none is known to flow. [A]"""
        if self.answer is None:
            return None
        found = [abs(each.current_a) for each in self.answer.conductors if each.part.ref == ref]
        greatest = max(found, default=0.0)
        return greatest if greatest > LIVE_ABOVE_A else None

    def is_live(self, ref: str) -> bool | None:
        """Whether current flows there; None where it is not known."""
        return None if self.answer is None else self.amps(ref) is not None

    def volts(self, node: str) -> str:
        """Voltage of a node over battery negative; empty where it floats or is next to 0."""
        if self.answer is None or node in self.answer.floating:
            return ""
        volts = self.answer.nodes_v.get(node, 0.0)
        return show_voltage(volts) if abs(volts) >= SHOWN_FROM_V else ""

    def load(self, mark: LoadMark) -> LoadAnswer | None:
        """Reading of one load of the trailer."""
        if self.answer is None:
            return None
        mine = [load for load in self.answer.loads if _is(load, mark)]
        exact = [load for load in mine if load.name == mark.name]
        return next(iter(exact or mine), None)

    def vehicle_lamps(self, function: str) -> tuple[LoadAnswer, ...]:
        """Readings of the vehicle's own lamps on a feed."""
        return self._loads("vehicle lamp", function)

    def fuse(self, function: str, place: str) -> FuseAnswer | None:
        """Reading of the fuse of a feed; `place` tells the converter's own feed from the rest."""
        if self.answer is None:
            return None
        return next(
            (
                fuse
                for fuse in self.answer.fuses
                if fuse.function == function and (place in fuse.element)
            ),
            None,
        )

    def _loads(self, kind: str, function: str) -> tuple[LoadAnswer, ...]:
        loads: Iterable[LoadAnswer] = () if self.answer is None else self.answer.loads
        return tuple(load for load in loads if load.kind == kind and load.function == function)


def _is(load: LoadAnswer, mark: LoadMark) -> bool:
    named = load.name == mark.name or load.name.startswith(f"{mark.name} ")
    return named and load.function == mark.function and load.kind != "vehicle lamp"
