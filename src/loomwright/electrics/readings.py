"""Readings of one solved case: loads, conductors, fuses, joints and pins."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from loomwright.circuit import Fuse, Resistor, Solution
from loomwright.electrics.answers import (
    ConductorAnswer,
    FuseAnswer,
    JointAnswer,
    LoadAnswer,
    LoadReading,
    PinAnswer,
)
from loomwright.electrics.carriers import carrier
from loomwright.electrics.cases import is_live
from loomwright.electrics.commands import Command
from loomwright.electrics.ladder import Ladders, home_of
from loomwright.electrics.lights import share_of_light, word_for
from loomwright.electrics.places import LoadPlace, PinPlace
from loomwright.electrics.stated import stated_a, stated_share
from loomwright.electrics.wiring import Wiring
from loomwright.quantities import WireSize
from loomwright.reference.conductors import ampacity_a, insulation
from loomwright.rig.model import Live


@dataclass(frozen=True, slots=True)
class Solved:
    """One command under one set of conditions, solved with the plug in.

    `duties` is the share of time each pulsed feed is on.
    """

    wiring: Wiring
    command: Command
    plugged: Solution
    duties: Mapping[str, float]

    def duty_of(self, fed_by: str | None) -> float:
        """Return the share of time what a feed drives is on."""
        return self.duties.get(fed_by or "", 1.0)


def load_answers(solved: Solved, ladders: Ladders) -> Iterator[LoadAnswer]:
    """Read every load, and the ladder of each."""
    rungs = {
        load.element: ladders.rungs(load.a, load.b, solved.duty_of(load.fed_by))
        for load in solved.wiring.loads
    }
    homes = {element: home_of(each) for element, each in rungs.items()}
    for reading in load_readings(solved, homes):
        yield LoadAnswer.of(reading, () if reading.floating else rungs[reading.element])


def load_readings(solved: Solved, homes: Mapping[str, str]) -> Iterator[LoadReading]:
    """Read every load; `homes` says by element what circuit takes its current home."""
    emf_v = solved.wiring.conditions.emf_v
    meant = _commanded(solved.wiring, solved.command)
    for load in solved.wiring.loads:
        duty = solved.duty_of(load.fed_by)
        floating = bool({load.a, load.b} & solved.plugged.floating)
        pulse_v = 0.0 if floating else solved.plugged.across_v(load.element)
        return_v = 0.0 if floating else duty * solved.plugged.voltages_v[load.b]
        current_a = 0.0 if floating else _current_a(solved.plugged, load, duty)
        share = None
        if load.source is not None:
            share = share_of_light(load.source, nominal_of(solved.wiring, load), pulse_v, duty)
        yield LoadReading(
            name=load.name,
            kind=load.kind,
            function=load.function,
            element=load.element,
            commanded=load.function in meant,
            voltage_v=duty * pulse_v,
            current_a=current_a,
            light_share=share,
            word=_word(solved, load, share, duty * pulse_v),
            supply_drop_v=emf_v - duty * pulse_v - return_v,
            return_drop_v=return_v,
            home="" if floating else homes[load.element],
            floating=floating,
        )


def nominal_of(wiring: Wiring, load: LoadPlace) -> float:
    """Return the nominal voltage of the system a load is in. [V]"""
    on_vehicle = load.kind in ("vehicle lamp", "trigger")
    rig = wiring.rig
    return rig.vehicle.supply.nominal_v if on_vehicle else rig.trailer.nominal_v


def _current_a(solution: Solution, load: LoadPlace, duty: float) -> float:
    """Mean current into the load; that of a magnet does not stop between pulses."""
    current_a = solution.currents_a[load.element]
    if load.gives:
        return -current_a
    return current_a if load.kind == "brake" else duty * current_a


def _commanded(wiring: Wiring, command: Command) -> frozenset[str]:
    """Return the functions whose loads the command, or the state of the engine, means to be on."""
    feeds = {feed.function: feed for feed in wiring.rig.vehicle.feeds}
    by_engine = {
        feed.function
        for feed in feeds.values()
        if feed.live is not Live.COMMAND and is_live(wiring, feed, command)
    }
    asked = {load.function for load in wiring.loads}
    on = {function for function in asked if carrier(function, feeds) in by_engine}
    return frozenset(on.union(command.functions))


def _word(solved: Solved, load: LoadPlace, share: float | None, voltage_v: float) -> str:
    if load.source is not None and share is not None:
        return word_for(share, load.source)
    current_a = abs(solved.plugged.currents_a[load.element])
    if load.kind == "battery":
        return "on" if current_a > stated_a("battery.on_above_a") else "off"
    if load.element in solved.plugged.off:
        return "off"
    least_v = stated_share("load.on_above") * nominal_of(solved.wiring, load)
    return "on" if abs(voltage_v) > least_v else "off"


def conductor_answers(solved: Solved) -> Iterator[ConductorAnswer]:
    """Read every wire; while a pulse is on, where its feed is pulsed."""
    wiring, solution = solved.wiring, solved.plugged
    crowd = _carrying(wiring, solution)
    for name, part in wiring.parts.items():
        if part.kind != "wire" or part.size is None:
            continue
        bundled = max(crowd[wiring.bundles.get(name, "")], 1)
        limit_a = _ampacity_a(part.size, part.insulation or "GPT", bundled)
        current_a = solution.currents_a[name]
        yield ConductorAnswer(
            part, current_a, solution.across_v(name), limit_a, abs(current_a) / limit_a
        )


def _carrying(wiring: Wiring, solution: Solution) -> Counter[str]:
    """Count the conductors of each bundle that carry current, each function of a run once."""
    carries_above_a = stated_a("bundle.carries_above_a")
    seen = {
        (bundle, wiring.parts[name].function)
        for name, bundle in wiring.bundles.items()
        if abs(solution.currents_a[name]) > carries_above_a
    }
    return Counter(bundle for bundle, _ in seen)


@cache
def _ampacity_a(size: WireSize, kind: str, bundled: int) -> float:
    return ampacity_a(size, insulation(kind).max_c, bundled)


def fuse_answers(solved: Solved) -> Iterator[FuseAnswer]:
    """Read every fuse."""
    wiring, solution = solved.wiring, solved.plugged
    for element in wiring.network.elements:
        if isinstance(element, Fuse):
            part = wiring.parts[element.name]
            current_a = abs(solution.currents_a[element.name])
            yield FuseAnswer(
                element=element.name,
                function=part.function,
                place=part.place,
                rating_a=element.rating_a,
                kind=wiring.fuse_kinds[element.name],
                current_a=current_a,
                share=current_a / element.rating_a,
                opened=element.name in solution.opened,
            )


def joint_answers(solved: Solved) -> Iterator[JointAnswer]:
    """Read every joint and contact."""
    wiring, solution = solved.wiring, solved.plugged
    for element in wiring.network.elements:
        part = wiring.parts[element.name]
        if part.kind in ("joint", "contact") and isinstance(element, Resistor):
            current_a = solution.currents_a[element.name]
            drop_v = solution.across_v(element.name)
            yield JointAnswer(
                part, element.resistance_ohm, current_a, drop_v, abs(drop_v * current_a)
            )


def pin_answers(solved: Solved, unplugged: Solution) -> Iterator[PinAnswer]:
    """Read every pin of every socket, trailer plugged in, and pulled for the open circuit."""
    plugged = solved.plugged
    for pin in solved.wiring.pins:
        duty = solved.duty_of(pin.fed_by)
        yield PinAnswer(
            socket=pin.socket,
            pin=pin.pin,
            function=pin.function,
            voltage_v=duty * _reading_v(plugged, pin.node, None),
            to_return_v=duty * _to_return_v(plugged, pin),
            open_circuit_v=duty * _to_return_v(unplugged, pin),
            floating=pin.node in plugged.floating,
        )


def _to_return_v(solution: Solution, pin: PinPlace) -> float:
    return 0.0 if pin.return_node is None else _reading_v(solution, pin.node, pin.return_node)


def _reading_v(solution: Solution, node: str, other: str | None) -> float:
    """What a meter shows between two nodes, or to battery negative; 0 if either floats."""
    if node in solution.floating or other in solution.floating:
        return 0.0
    return solution.voltages_v[node] - (0.0 if other is None else solution.voltages_v[other])
