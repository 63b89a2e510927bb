"""Readings of one command, looked up by places on the drawing of the run."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from loomwright.drawing.run_plan import LoadMark, RunPlan, row_of
from loomwright.electrics.answers import CommandAnswer, FuseAnswer, LoadAnswer
from loomwright.electrics.commands import COMMANDS
from loomwright.quantities import show_voltage

LIVE_ABOVE_A = 0.005
STRAY_BELOW_A = 0.25
SHOWN_FROM_V = 0.1
RETURN_SHOWN_FROM_V = 0.01
CONVERTER_FEED = "converter.feed"


@dataclass(frozen=True, slots=True)
class Readings:
    """What meters would show under one command; without an answer nothing is known."""

    answer: CommandAnswer | None
    commanded: frozenset[str] = frozenset()
    flashing: frozenset[str] = frozenset()

    def amps(self, ref: str) -> float | None:
        """Greatest current in the conductors of a place; None where none to speak of flows. [A]

        In a circuit that the command does not call for, a little current that strays there
        from a shared return counts as none.
        """
        if self.answer is None:
            return None
        found = [each for each in self.answer.conductors if each.part.ref == ref]
        if not found:
            return None
        part, greatest = found[0].part, max(abs(each.current_a) for each in found)
        called = part.path == "return" or row_of(part.function) in self.commanded
        return greatest if greatest > (LIVE_ABOVE_A if called else STRAY_BELOW_A) else None

    def is_live(self, ref: str) -> bool | None:
        """Whether current flows there; None where it is not known."""
        return None if self.answer is None else self.amps(ref) is not None

    def is_home_live(self, mark: LoadMark) -> bool | None:
        """Whether current comes home by a load's own ground; None where it is not known."""
        if self.answer is None:
            return None
        kind = "lamp" if mark.form == "lamp" else "brake" if mark.form == "brake" else ""
        ref = f"trailer.{kind}.{mark.name}.ground"
        own = [each for each in self.answer.conductors if each.part.ref == ref]
        return any(abs(each.current_a) > LIVE_ABOVE_A for each in own) if own else None

    def volts(self, node: str, least_v: float = SHOWN_FROM_V) -> str:
        """Voltage of a node over battery negative; empty where it floats or is below `least_v`."""
        if self.answer is None or node in self.answer.floating:
            return ""
        volts = self.answer.nodes_v.get(node, 0.0)
        return show_voltage(volts) if abs(volts) >= least_v else ""

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


def readings_of(plan: RunPlan, answer: CommandAnswer | None) -> Readings:
    """Return the readings, with the rows that the command calls for."""
    if answer is None:
        return Readings(None)
    known = Readings(answer)
    rows = {row_of(load.function) for load in answer.loads if load.commanded}
    for mark in plan.loads:
        load = known.load(mark)
        if load is not None and load.commanded:
            rows.add(row_of(mark.carried_by))
    flashing = next((each.flashing for each in COMMANDS if each.key == answer.command), ())
    return Readings(answer, frozenset(rows), frozenset(flashing))


def _is(load: LoadAnswer, mark: LoadMark) -> bool:
    named = load.name == mark.name or load.name.startswith(f"{mark.name} ")
    return named and load.function == mark.function and load.kind != "vehicle lamp"
