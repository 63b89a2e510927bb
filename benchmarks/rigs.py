"""The three rigs that are measured: a small one, the demo, and a long trailer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

from benchmarks.long_trailer import long_trailer
from loomwright import examples, read_rig
from loomwright.circuit import Case, Fuse, Load, Network, Resistor
from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Bridged, Fault, Opened, Resisted, Shorted
from loomwright.electrics.cases import case_for
from loomwright.electrics.commands import commands_for
from loomwright.electrics.wiring import wire_up
from loomwright.rig.model import Rig

T = TypeVar("T")

FAULTS = 300
CORRODED_OHM = 0.5
"""Added to a joint or a wire that has corroded. [ohm]"""


@dataclass(frozen=True, slots=True)
class MeasuredRig:
    """A rig as a network, a case for each command, and single faults."""

    key: str
    title: str
    rig: Rig
    network: Network
    commands: tuple[str, ...]
    bases: tuple[Case, ...]
    faults: tuple[Fault, ...]

    @property
    def loads(self) -> int:
        """Count of loads."""
        return sum(isinstance(element, Load) for element in self.network.elements)


def measured_rigs(faults: int = FAULTS) -> tuple[MeasuredRig, ...]:
    """Return the three rigs, each with so many faults."""
    return (
        measured("utility", "utility trailer", examples.text("utility-rewire"), faults),
        measured("demo", "horse trailer (the demo)", examples.text("horse-trailer-van"), faults),
        measured("long", "16 m trailer, 60 lamps", long_trailer(), faults),
    )


def measured(key: str, title: str, job: str, faults: int = FAULTS) -> MeasuredRig:
    """Return the rig of a job file, ready to be measured."""
    rig = read_rig(job, f"{key}.toml")
    wiring = wire_up(rig)
    commands = commands_for(rig)
    return MeasuredRig(
        key,
        title,
        rig,
        wiring.network,
        tuple(each.key for each in commands),
        tuple(case_for(wiring, each) for each in commands),
        tuple(spread(list(all_faults(wiring.network)), faults)),
    )


def all_faults(network: Network) -> Iterator[Fault]:
    """Yield opens, corrosion, shorted loads, shorts to battery negative and between wires."""
    conductors = [e for e in network.elements if isinstance(e, Resistor | Fuse)]
    yield from (Opened(each.name) for each in conductors)
    yield from (Resisted(each.name, CORRODED_OHM) for each in conductors)
    loads = [each for each in network.elements if isinstance(each, Load)]
    yield from (Shorted(each.name) for each in loads)
    nodes = [node for node in network.nodes if node != "battery_plus"]
    yield from (Bridged(node, network.reference) for node in nodes)
    fed = [ends(each)[0][0] for each in loads]
    yield from (Bridged(one, other) for one, other in pairwise(fed) if one != other)


def spread(items: Sequence[T], count: int) -> list[T]:
    """Return so many of the items, spread evenly, or all if there are not so many."""
    if len(items) <= count:
        return list(items)
    return [items[n * len(items) // count] for n in range(count)]
