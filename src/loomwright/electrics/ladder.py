"""The drop ladder: which part takes which volts on the way to a load and home.

Of all ways through series elements the one of least resistance is shown, found by Dijkstra's
method. Every node has one voltage, so the drops along any way add up to the same sum, and with
the load's own voltage they make the EMF. An open switch or fuse counts as 1e17 ohm: it is passed
only where there is no other way, and then the ladder shows where the volts are lost.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from loomwright.circuit import Element, Fuse, Resistor, Solution, Source, Switch, Transformed
from loomwright.electrics.answers import Part, Rung
from loomwright.electrics.harness import BATTERY_PLUS, REFERENCE
from loomwright.electrics.places import LoadPlace
from loomwright.electrics.vehicle_side import BRAKE_CONTROLLER, SUPPLY

OPEN_OHM: Final = 1e17


@dataclass(frozen=True, slots=True)
class Tie:
    """A series element between two nodes, with its resistance in this case. [ohm]"""

    element: str
    a: str
    b: str
    ohm: float


@dataclass(frozen=True, slots=True)
class Ladders:
    """The ways of least resistance in one solved case.

    `out` leads from each node back towards the battery's plus, `home` from each node on towards
    its minus, a tie at a time. `_known` keeps rungs by the node they start from and their element.
    """

    parts: Mapping[str, Part]
    solution: Solution
    supply: Source
    out: Mapping[str, Tie]
    home: Mapping[str, Tie]
    _known: dict[tuple[str, str], Rung] = field(default_factory=dict, repr=False, compare=False)

    def rungs(self, a: str, b: str, duty: float = 1.0) -> tuple[Rung, ...]:
        """Return the rungs from the battery to node `a`, then from node `b` to the battery.

        Parameters
        ----------
        a, b : str
            The nodes of a load.
        duty : float
            Share of time its feed is on. Drops and currents are means over time, as if nothing
            else drew current between the pulses, and the driver takes what is missing while it
            is off.

        Returns
        -------
        tuple of Rung
            Empty if no way leads there.
        """
        to_load, from_load = list(_way(self.out, a)), list(_way(self.home, b))
        if not _reaches(self.out, a, BATTERY_PLUS) or not _reaches(self.home, b, REFERENCE):
            return ()
        rungs = [self._supply_rung()]
        rungs += [self._rung(start, end, tie) for end, start, tie in reversed(to_load)]
        rungs += [self._rung(start, end, tie) for start, end, tie in from_load]
        return tuple(rungs if duty == 1.0 else _pulsed(rungs, duty, self.supply.emf_v))

    def _supply_rung(self) -> Rung:
        drop_v = self.supply.emf_v - self.solution.voltages_v[BATTERY_PLUS]
        current_a = self.solution.currents_a[SUPPLY]
        return Rung(self.parts[SUPPLY], drop_v, current_a, self.supply.resistance_ohm)

    def _rung(self, start: str, end: str, tie: Tie) -> Rung:
        """Return a rung; those that several loads share are read once."""
        known = self._known.get((start, tie.element))
        if known is None:
            known = self._known[start, tie.element] = self._read(start, end, tie)
        return known

    def _read(self, start: str, end: str, tie: Tie) -> Rung:
        drop_v = self.solution.voltages_v[start] - self.solution.voltages_v[end]
        if tie.element in self.solution.outputs_a:
            current_a = self.solution.outputs_a[tie.element]
        else:
            current_a = self.solution.currents_a[tie.element]
        if tie.element == BRAKE_CONTROLLER:
            current_a = -current_a
        sign = 1.0 if start == tie.a else -1.0
        return Rung(self.parts[tie.element], drop_v, sign * current_a, tie.ohm)


def find_ladders(
    elements: tuple[Element, ...], parts: Mapping[str, Part], solution: Solution
) -> Ladders:
    """Find the ways of least resistance through the elements of a solved case."""
    around = _around(_ties(elements, solution.opened))
    supply = next(each for each in elements if isinstance(each, Source) and each.name == SUPPLY)
    out, home = _nearest(around, BATTERY_PLUS), _nearest(around, REFERENCE)
    return Ladders(parts, solution, supply, out, home)


def home_of(rungs: Iterable[Rung]) -> str:
    """Return the circuit of the first rung on the way home, "" if there is none."""
    return next((rung.part.function for rung in rungs if rung.part.path == "return"), "")


def homes(
    elements: tuple[Element, ...], parts: Mapping[str, Part], loads: Iterable[LoadPlace]
) -> dict[str, str]:
    """Return for each load by its element what `home_of` says of its ladder.

    It is the same under every command: no switch and no fuse lies in a way home.
    """
    around = _around(_ties(elements, opened=()))
    out, home = _nearest(around, BATTERY_PLUS), _nearest(around, REFERENCE)
    found = dict.fromkeys((load.element for load in loads), "")
    for load in loads:
        if _reaches(out, load.a, BATTERY_PLUS) and _reaches(home, load.b, REFERENCE):
            way = (parts[tie.element] for _, _, tie in _way(home, load.b))
            found[load.element] = next((p.function for p in way if p.path == "return"), "")
    return found


def _around(ties: Iterable[Tie]) -> dict[str, list[Tie]]:
    """Return the ties that meet at each node."""
    around: dict[str, list[Tie]] = {}
    for tie in ties:
        around.setdefault(tie.a, []).append(tie)
        around.setdefault(tie.b, []).append(tie)
    return around


def _ties(elements: tuple[Element, ...], opened: tuple[str, ...]) -> Iterator[Tie]:
    for each in elements:
        match each:
            case Resistor():
                yield Tie(each.name, each.a, each.b, min(each.resistance_ohm, OPEN_OHM))
            case Switch():
                ohm = each.resistance_ohm if each.closed else OPEN_OHM
                yield Tie(each.name, each.a, each.b, ohm)
            case Fuse():
                is_open = each.open or each.name in opened
                ohm = OPEN_OHM if is_open else each.resistance_ohm
                yield Tie(each.name, each.a, each.b, ohm)
            case Source(name=name) if name == BRAKE_CONTROLLER:
                yield Tie(name, each.plus, each.minus, each.resistance_ohm)
            case Transformed():
                yield Tie(each.name, each.in_a, each.out_plus, each.resistance_ohm)
            case _:
                pass


def _nearest(around: Mapping[str, list[Tie]], root: str) -> dict[str, Tie]:
    """Return for each node the tie that leads towards the root on the way of least resistance."""
    towards: dict[str, Tie] = {}
    settled: set[str] = set()
    edge: list[tuple[float, str]] = [(0.0, root)]
    far = {root: 0.0}
    while edge:
        ohm, node = heapq.heappop(edge)
        if node in settled:
            continue
        settled.add(node)
        for tie in around.get(node, ()):
            other = tie.b if node == tie.a else tie.a
            longer = ohm + tie.ohm
            if other not in settled and longer < far.get(other, float("inf")):
                far[other], towards[other] = longer, tie
                heapq.heappush(edge, (longer, other))
    return towards


def _way(towards: Mapping[str, Tie], node: str) -> Iterator[tuple[str, str, Tie]]:
    """Walk from a node to the root: (node, next node, tie)."""
    while node in towards:
        tie = towards[node]
        following = tie.b if node == tie.a else tie.a
        yield node, following, tie
        node = following


def _reaches(towards: Mapping[str, Tie], node: str, root: str) -> bool:
    return node == root or node in towards


def _pulsed(rungs: list[Rung], duty: float, emf_v: float) -> Iterator[Rung]:
    """Means over time; the driver takes the EMF while it is off."""
    drivers = [n for n, rung in enumerate(rungs) if rung.part.kind == "switch"]
    driver = drivers[0] if drivers else 0
    for n, rung in enumerate(rungs):
        off_v = (1.0 - duty) * emf_v if n == driver else 0.0
        yield replace(rung, drop_v=duty * rung.drop_v + off_v, current_a=duty * rung.current_a)
