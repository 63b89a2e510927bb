"""A network at rest, written as a deck that any SPICE can run."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from loomwright.circuit.elements import (
    ConstantPower,
    Driver,
    Element,
    Fuse,
    Load,
    Resistor,
    Source,
    Switch,
    Transformed,
)
from loomwright.circuit.laws import spice_number
from loomwright.circuit.network import OPEN_OHM, SHUNT_S, Case, Network, elements_in
from loomwright.circuit.solution import Solution

LINE_LENGTH: Final = 120

_HEAD: Final = """\
* {title}
* {count} nodes besides the reference, which is node 0. Every node has a shunt of 1e9 ohm to it.
* Fuses, loads of constant power and converters stand as they settled.
.options reltol=1e-7"""


def write_spice(network: Network, case: Case, title: str, solution: Solution) -> str:
    """Write the network as a SPICE deck with an operating point.

    Parameters
    ----------
    network : Network
        The elements and how they are joined.
    case : Case
        The case `solution` is of.
    title : str
        First line of the deck; line breaks become spaces.
    solution : Solution
        What settled: fuses that opened stand as 1e17 ohm, loads of constant power as a
        current P/V (no more than at their drop-out voltage), devices that dropped out as
        their resistance, the output of a converter as an EMF behind its resistance.

    Returns
    -------
    str
        The deck. Names are in lower case with a to z, 0 to 9 and underscores. A simulator in
        batch mode prints every node of an operating point unasked.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, if the case does not fit the network.
    """
    elements = elements_in(network, case)
    nodes = spice_nodes(network)
    names = _distinct(tuple(element.name for element in elements))
    lines = [_HEAD.format(title=" ".join(title.split()), count=len(network.nodes))]
    for element, name in zip(elements, names, strict=True):
        lines.extend(_lines(element, name, nodes, solution))
    lines.extend(
        f"Rshunt__{nodes[node]} {nodes[node]} 0 {1.0 / SHUNT_S:g}" for node in network.nodes
    )
    if any(
        isinstance(element, ConstantPower | Transformed) and element.name not in solution.off
        for element in elements
    ):
        lines.append("* Constant power has two answers; start near the one with the high voltage.")
        lines.extend(
            f".nodeset v({nodes[node]})={solution.voltages_v[node]:.2g}" for node in network.nodes
        )
    lines.append(".op")
    lines.append(".end")
    return "\n".join(_folded(line) for line in lines) + "\n"


def spice_nodes(network: Network) -> dict[str, str]:
    """Name of each node in the deck; the reference is 0."""
    names = dict(zip(network.nodes, _distinct(tuple(network.nodes)), strict=True))
    names[network.reference] = "0"
    return names


@lru_cache(maxsize=8)  # the decks of many cases have the same names
def _distinct(names: tuple[str, ...]) -> tuple[str, ...]:
    """Lower-case names of letters, digits and underscores, no two the same.

    None holds two underscores in a row: those mark the names made here.
    """
    taken: set[str] = set()
    out = []
    for name in names:
        plain = re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")
        plain = plain if re.match(r"[a-z]", plain) else f"n_{plain or 'x'}"
        candidate, count = plain, 2
        while candidate in taken:
            candidate, count = f"{plain}_{count}", count + 1
        taken.add(candidate)
        out.append(candidate)
    return tuple(out)


def _lines(element: Element, name: str, nodes: dict[str, str], solution: Solution) -> Iterator[str]:
    match element:
        case Source():
            plus, minus = nodes[element.plus], nodes[element.minus]
            yield from _source(name, plus, minus, element.emf_v, element.resistance_ohm)
        case Load():
            a, b = nodes[element.a], nodes[element.b]
            yield f"B{name} {a} {b} I={element.law.spice(a, b)}"
        case ConstantPower():
            a, b = nodes[element.a], nodes[element.b]
            if element.name in solution.off:
                yield f"R{name} {a} {b} {float(element.off_resistance_ohm)!r}"
            else:
                yield _draw(name, a, b, element, element.power_w)
        case Transformed():
            yield from _converter(element, name, nodes, solution)
        case _:
            a, b = nodes[element.a], nodes[element.b]
            yield f"R{name} {a} {b} {float(_resistance_ohm(element, solution))!r}"


def _source(name: str, plus: str, minus: str, emf_v: float, ohm: float) -> Iterator[str]:
    """An EMF and its resistance, with a node of their own between."""
    yield f"V{name} {name}__emf {minus} DC {float(emf_v)!r}"
    yield f"R{name} {name}__emf {plus} {float(min(ohm, OPEN_OHM))!r}"


def _draw(name: str, a: str, b: str, element: ConstantPower | Transformed, power_w: float) -> str:
    """A current P/V; below the drop-out voltage no more than there, so that it starts from 0 V."""
    current = f"{spice_number(power_w)}/max(V({a},{b}),{spice_number(element.off_below_v)})"
    if isinstance(element, ConstantPower) and element.max_current_a < float("inf"):
        current = f"min({current},{spice_number(element.max_current_a)})"
    return f"B{name} {a} {b} I={current}"


def _converter(
    element: Transformed, name: str, nodes: dict[str, str], solution: Solution
) -> Iterator[str]:
    in_a, in_b = nodes[element.in_a], nodes[element.in_b]
    plus, minus = nodes[element.out_plus], nodes[element.out_minus]
    if element.name in solution.off:
        yield f"R{name}__in {in_a} {in_b} {float(element.off_resistance_ohm)!r}"
        yield f"R{name}__out {plus} {minus} {float(element.off_resistance_ohm)!r}"
        return
    power_w = solution.across_v(element.name) * solution.currents_a[element.name]
    yield _draw(f"{name}__in", in_a, in_b, element, power_w)
    output_v = solution.voltage_v(element.out_plus) - solution.voltage_v(element.out_minus)
    settled_v = output_v + element.resistance_ohm * solution.outputs_a[element.name]
    yield from _source(f"{name}__out", plus, minus, settled_v, element.resistance_ohm)


def _resistance_ohm(element: Resistor | Switch | Fuse | Driver, solution: Solution) -> float:
    is_open = (
        element.name in solution.opened
        or (isinstance(element, Switch | Driver) and not element.closed)
        or (isinstance(element, Fuse) and element.open)
    )
    return OPEN_OHM if is_open else min(element.resistance_ohm, OPEN_OHM)


def _folded(line: str) -> str:
    """Continue a long line with `+`, broken behind an operator outside of any number."""
    out = []
    while len(line) > LINE_LENGTH and not line.startswith("*"):
        cut = max((m.end() for m in re.finditer(r"[*/(,]", line[:LINE_LENGTH])), default=0)
        if cut < 20:
            break
        out.append(line[:cut])
        line = "+ " + line[cut:]
    return "\n".join([*out, line])
