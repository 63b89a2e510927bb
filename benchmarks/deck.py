"""A rig as a deck that stays loaded: commands, faults and samples are altered resistances."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from loomwright.circuit import Case, Fuse, Network, Resistor, Source, Switch, solve
from loomwright.circuit.faults import Bridged, Fault, Opened, Resisted, Shorted, short_across
from loomwright.circuit.network import OPEN_OHM, elements_in
from loomwright.circuit.spice import spice_nodes, write_spice

RELTOL = "1e-5"
"""Tighter does not converge on floating parts, looser is no faster."""

State = Mapping[str, float]
"""Value of what may be altered, by its name in the deck."""


@dataclass(frozen=True, slots=True)
class Deck:
    """A loaded rig: its text, the state in it, and the bridge that stands for each join."""

    network: Network
    text: str
    state: State
    bridges: Mapping[frozenset[str], str]

    def of(self, base: Case, faults: Iterable[Fault] = (), factor: State | None = None) -> State:
        """State of the deck for a command with faults, or with factors on resistances."""
        state = {**self.state, **_state(self.network, base)}
        for name, times in (factor or {}).items():
            state[f"r{name}"] *= times
        whole = dict(state)
        touched: set[str] = set()
        for fault in faults:
            name, ohm = self._altered(fault, whole)
            worse = max if name in touched and not name.startswith("rbridge") else _second
            state[name] = worse(state[name], ohm)
            touched.add(name)
        return state

    def _altered(self, fault: Fault, state: State) -> tuple[str, float]:
        match fault:
            case Opened(element=name):
                return f"r{name}", OPEN_OHM
            case Resisted(element=name, added_ohm=more):
                return f"r{name}", min(state[f"r{name}"] + more, OPEN_OHM)
            case Shorted(resistance_ohm=ohm):
                return self.bridges[frozenset(short_across(self.network, fault) or ())], ohm
            case Bridged(a=a, b=b, resistance_ohm=ohm):
                return self.bridges[frozenset((a, b))], ohm
            case _:
                raise ValueError(f"{fault}: not measured")


def make_deck(network: Network, faults: Iterable[Fault] = ()) -> Deck:
    """Return the deck of a network, with an open bridge for each join these faults need."""
    nodes = spice_nodes(network)
    text = write_spice(network, Case(), "measured", solve(network))
    text = re.sub(r"^\.(op|print.*|end|options.*)\n", "", text, flags=re.M)
    bridges: dict[frozenset[str], str] = {}
    lines = [f".options reltol={RELTOL}"]
    for join in _joins(network, faults):
        if frozenset(join) not in bridges:
            name = f"rbridge__{len(bridges)}"
            bridges[frozenset(join)] = name
            lines.append(f"{name} {nodes[join[0]]} {nodes[join[1]]} {OPEN_OHM!r}")
    state = _state(network, Case()) | dict.fromkeys(bridges.values(), OPEN_OHM)
    return Deck(network, text + "\n".join([*lines, ".end", ""]), state, bridges)


def steps(deck: Deck, states: Sequence[State]) -> Iterator[list[str]]:
    """Yield what to tell ngspice for each state in turn, no more altered than must be.

    After the last the deck is put back as it was loaded.
    """
    now = deck.state
    for wanted in states:
        yield [*_alter(now, wanted), "op", "destroy all"]
        now = wanted
    yield list(_alter(now, deck.state))


def _alter(now: State, wanted: State) -> Iterator[str]:
    for name, value in wanted.items():
        if value != now[name]:
            yield f"alter {name} = {value!r}"


def _joins(network: Network, faults: Iterable[Fault]) -> Iterator[tuple[str, str]]:
    for fault in faults:
        if isinstance(fault, Bridged):
            yield fault.a, fault.b
        join = short_across(network, fault)
        if join is not None:
            yield join


def _state(network: Network, case: Case) -> dict[str, float]:
    state: dict[str, float] = {}
    for element in elements_in(network, case):
        match element:
            case Switch(name=name, closed=False) | Fuse(name=name, open=True):
                state[f"r{name}"] = OPEN_OHM
            case Resistor(name=name) | Switch(name=name) | Fuse(name=name):
                state[f"r{name}"] = min(float(element.resistance_ohm), OPEN_OHM)
            case Source(name=name):
                state[f"r{name}"] = float(element.resistance_ohm)
                state[f"v{name}"] = float(element.emf_v)
    return state


def _second(_: float, ohm: float) -> float:
    return ohm
