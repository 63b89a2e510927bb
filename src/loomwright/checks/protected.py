"""What a fuse protects: the wires behind it on the way to each load, and the loop of a short.

Taken from the ladders of the loads, which run from the battery to the load and home. Behind a
powered converter the box protects its outputs, so a wire there is not counted to any fuse.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.checks.readings import NOMINAL, cases, worst_by
from loomwright.checks.rule import Work
from loomwright.electrics.answers import (
    CommandAnswer,
    ConductorAnswer,
    FuseAnswer,
    LoadAnswer,
    Rung,
)
from loomwright.reference.conductors import resistance_ohm_per_m

OPEN_OHM = 1e4
"""A loop of more is broken somewhere, and has no short circuit to judge."""

HOT_WIRE_C = 60.0
"""A wire on a hot day under load, as in the conditions for least light."""

POWERED_OUTPUT = "converter.channel."


@dataclass(frozen=True, slots=True)
class FuseLine:
    """A fuse, the wires behind it, and the least current of a short at a far end.

    `emf_v` drives the short and `loop_ohm` is all it passes, out and home, with hot wires and with
    contacts as old as the trailer. `far_end` is the load the short is at.
    """

    fuse: FuseAnswer
    wires: tuple[ConductorAnswer, ...]
    emf_v: float
    loop_ohm: float
    far_end: str

    @property
    def short_a(self) -> float:
        """Current of the short. [A]"""
        return self.emf_v / self.loop_ohm


def fuse_lines(work: Work) -> tuple[FuseLine, ...]:
    """Return each fuse that feeds a load of the trailer, with what is behind it."""
    found: dict[str, FuseLine] = {}
    for case in cases(work, NOMINAL):
        fuses = {fuse.element: fuse for fuse in case.fuses}
        wires = {wire.part.element: wire for wire in case.conductors}
        for load, fuse_name, behind in _fused_loads(case):
            loop_ohm = sum(_hot_ohm(rung) for rung in load.ladder)
            if fuse_name not in fuses or not 0 < loop_ohm < OPEN_OHM:
                continue
            line = FuseLine(
                fuses[fuse_name],
                tuple(wires[name] for name in behind if name in wires),
                load.supply_drop_v + load.voltage_v + load.return_drop_v,
                loop_ohm,
                load.name,
            )
            found[fuse_name] = _joined(found.get(fuse_name), line)
    return tuple(found.values())


def _fused_loads(case: CommandAnswer) -> Iterator[tuple[LoadAnswer, str, list[str]]]:
    """Yield each load that is on, the name of its fuse, and the names of the wires behind it."""
    for load in case.loads:
        if not load.commanded or load.kind in ("vehicle lamp", "trigger"):
            continue
        out = [rung for rung in load.ladder if rung.part.path == "supply"]
        if any(_ends_protection(rung) for rung in out):
            continue
        for place, rung in enumerate(out):
            if rung.part.kind == "fuse":
                behind = [later.part.element for later in out[place:] if later.part.kind == "wire"]
                yield load, rung.part.element, behind


def _hot_ohm(rung: Rung) -> float:
    """Resistance of a rung, a wire's as hot as a short makes it. [ohm]"""
    if rung.part.kind != "wire" or rung.part.size is None:
        return rung.resistance_ohm
    size = rung.part.size
    hot = resistance_ohm_per_m(size, HOT_WIRE_C) / resistance_ohm_per_m(size)
    return rung.resistance_ohm * hot


def _ends_protection(rung: Rung) -> bool:
    return rung.part.ref.startswith(POWERED_OUTPUT) or rung.part.kind == "converter"


def _joined(known: FuseLine | None, line: FuseLine) -> FuseLine:
    """Keep every wire that was met, each with its least ampacity, and the weakest short."""
    if known is None:
        return line
    weakest = min(known, line, key=lambda each: each.short_a)
    wires = worst_by(
        (*known.wires, *line.wires), lambda wire: wire.part.element, lambda wire: -wire.ampacity_a
    )
    return FuseLine(
        known.fuse, tuple(wires.values()), weakest.emf_v, weakest.loop_ohm, weakest.far_end
    )
