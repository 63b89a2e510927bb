"""Which faults no lamp and no pin tells apart: those along one row of the same conductor.

Between two taps the same current passes every wire, joint, contact and fuse of a row, so more
resistance in any of them, or a break, does the same to everything beyond. One of them is solved
for all. Only a meter within the row tells them apart, and such a reading is solved for each.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from loomwright.circuit import Driver, Fuse, Network, Resistor, Switch
from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Bridged, Fault, Opened, Resisted

INNER = (Resistor, Switch, Fuse, Driver)


def rows_of(network: Network, kept: Collection[str]) -> Mapping[str, str]:
    """Return for each element in a row the first of that row; others stand for themselves.

    Parameters
    ----------
    network : Network
        The circuit.
    kept : collection of str
        Nodes that are read, which part a row in two.
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

    for node, names in at.items():
        if node in kept or node == network.reference or len(names) != 2:
            continue
        one, other = (network.element(n) for n in names)
        if isinstance(one, INNER) and isinstance(other, INNER):
            first, second = sorted((find(names[0]), find(names[1])))
            root[second] = first
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
