"""Which faults no lamp and no pin tells apart: those along one row of the same conductor.

Between two taps the same current passes every wire, joint, contact and fuse of a row, so more
resistance in any of them, or a break, does the same to everything beyond. One of them is solved
for all. Only a meter within the row tells them apart, and such a reading is solved for each.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from typing import TypeAlias

from loomwright.circuit import Driver, Element, Fuse, Load, Network, Resistor, Source, Switch
from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Bridged, Fault, Opened, Resisted

Conductor: TypeAlias = Resistor | Switch | Fuse | Driver
INNER = (Resistor, Switch, Fuse, Driver)


def rows_of(
    network: Network, kept: Collection[str], *, through_loads: bool = False
) -> Mapping[str, str]:
    """Return for each element in a row the first of that row; others stand for themselves.

    Parameters
    ----------
    network : Network
        The circuit.
    kept : collection of str
        Nodes that are read, which part a row in two.
    through_loads : bool
        Whether a row goes on behind a load that hangs alone between two wires: what is lost
        before it or behind it does the same to it.
    """
    at: dict[str, list[str]] = {}
    for element in network.elements:
        for pair in ends(element):
            for node in pair:
                at.setdefault(node, []).append(element.name)
    root = {e.name: e.name for e in network.elements}

    def find(name: str) -> str:
        while root[name] != name:
            name = root[name]
        return name

    def join(name: str, other: str) -> None:
        first, second = sorted((find(name), find(other)))
        root[second] = first

    def is_free(node: str) -> bool:
        return node not in kept and node != network.reference and len(at[node]) == 2

    def is_inner(name: str) -> bool:
        return isinstance(network.element(name), INNER)

    for node, names in at.items():
        if is_free(node) and is_inner(names[0]) and is_inner(names[1]):
            join(*names)
    for element in network.elements if through_loads else ():
        if isinstance(element, Load) and is_free(element.a) and is_free(element.b):
            before, behind = (
                next(n for n in at[node] if n != element.name) for node in (element.a, element.b)
            )
            if before != behind and is_inner(before) and is_inner(behind):
                join(before, behind)
    return {name: find(name) for name in root}


def same_nodes(network: Network, kept: Collection[str]) -> Mapping[str, str]:
    """Return for each node within a row the one that stands for all of them.

    A short anywhere along a row of some milliohms does the same.

    Parameters
    ----------
    network, kept
        As for `rows_of`.
    """
    rows = rows_of(network, kept)
    inside: dict[str, str] = {}
    touching: dict[str, set[str]] = {}
    for element in network.elements:
        for node in ends(element)[0]:
            touching.setdefault(node, set()).add(rows[element.name])
    first: dict[str, str] = {}
    for node, roots in touching.items():
        if node in kept or node == network.reference or len(roots) != 1:
            continue
        inside[node] = first.setdefault(next(iter(roots)), node)
    return inside


def all_standing_for(
    changes: tuple[Fault, ...], rows: Mapping[str, str], nodes: Mapping[str, str]
) -> tuple[Fault, ...]:
    """Return the changes that are solved in place of those of one fault.

    Where a fault breaks wires and joins their ends otherwise, each end belongs to its side of
    the very break: such a fault is solved as it is.

    Parameters
    ----------
    changes : tuple of Fault
        Those of the fault.
    rows : mapping of str to str
        As `rows_of` gives them.
    nodes : mapping of str to str
        As `same_nodes` gives them.
    """
    is_rewired = len({type(each) for each in changes} & {Opened, Bridged}) > 1
    return changes if is_rewired else tuple(standing_for(each, rows, nodes) for each in changes)


def standing_for(fault: Fault, rows: Mapping[str, str], nodes: Mapping[str, str]) -> Fault:
    """Return the fault that is solved in place of this one."""
    match fault:
        case Opened(element=name) | Resisted(element=name):
            return replace(fault, element=rows[name])
        case Bridged(a=a, b=b):
            one, other = nodes.get(a, a), nodes.get(b, b)
            return fault if one == other else replace(fault, a=one, b=other)
        case _:
            return fault


def line_of(network: Network, name: str) -> tuple[Conductor, ...]:
    """Return a conductor and the nearest on either side that the same current passes.

    Parameters
    ----------
    network : Network
        The circuit.
    name : str
        The conductor.
    """
    middle = network.element(name)
    if not isinstance(middle, INNER):
        return ()
    found = [_along(network, middle, node) for node in (middle.a, middle.b)]
    return (middle, *(each for each in found if each is not None))


def _along(network: Network, element: Element, node: str) -> Conductor | None:
    """Return the next conductor beyond a node, past sources; None where the current may part."""
    touching = [e for e in network.elements if any(node in pair for pair in ends(e))]
    if node == network.reference or len(touching) != 2:
        return None
    other = next(each for each in touching if each is not element)
    if isinstance(other, INNER):
        return other
    if not isinstance(other, Source):
        return None
    return _along(network, other, other.minus if other.plus == node else other.plus)
