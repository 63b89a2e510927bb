"""From the shape of a network to an elimination program: plain data, made once.

The nodes are eliminated one after another, each star of edges turned into the mesh that
acts the same from outside (the star-mesh transformation). Which node goes when depends only
on the shape, so commands, faults and tolerances are other numbers in the same program.

The order has two parts. First go nodes that no load touches, while few edges meet there:
fuses, switches, wires, contacts. They are linear and are eliminated once in a solve. The rest
is the core, eliminated once in every Newton iteration. Within each part the node where the
fewest edges meet goes first (minimum degree), which keeps the meshes small.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NamedTuple

LINEAR_DEGREE: Final = 3
"""At most this many neighbours (the reference aside) for a node of the linear part."""


class Branch(NamedTuple):
    """One edge of the network: from node number `a` to `b`; a load's if its law may bend."""

    a: int
    b: int
    is_load: bool


class Topology(NamedTuple):
    """The shape of a network: nodes 0 to `nodes` - 1, and the reference, numbered `nodes`."""

    nodes: int
    branches: tuple[Branch, ...]


class Step(NamedTuple):
    """Elimination of one node.

    Parameters
    ----------
    node : int
        The node that goes.
    slots : tuple of int
        Its edges, to `neighbours` in their order and last to the reference.
    neighbours : tuple of int
        The nodes at the other ends, in the order they go later; the reference left out.
    targets : tuple of int
        The edge between each pair of the far ends: (0, 1), (0, 2) ... (1, 2) ...
    """

    node: int
    slots: tuple[int, ...]
    neighbours: tuple[int, ...]
    targets: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Program:
    """What to do, in order, to solve any network of one shape.

    Parameters
    ----------
    nodes : int
        Count of nodes, the reference left out.
    slots : int
        Count of edges of the network and of every mesh made on the way.
    shunt_slots : tuple of int
        The edge from each node to the reference.
    branch_slots : tuple of int
        The edge each branch lies on.
    branch_signs : tuple of int
        1 if the first node of the branch goes before its second, else -1.
    loads : tuple of int
        The branches that are loads.
    linear, core : tuple of Step
        The two parts of the elimination.
    """

    nodes: int
    slots: int
    shunt_slots: tuple[int, ...]
    branch_slots: tuple[int, ...]
    branch_signs: tuple[int, ...]
    loads: tuple[int, ...]
    linear: tuple[Step, ...]
    core: tuple[Step, ...]


@lru_cache(maxsize=128)
def compile_program(topology: Topology) -> Program:
    """Elimination program of a shape; the same shape gives the same program."""
    reference = topology.nodes
    linear_nodes, stars = _order(topology)
    order = [node for node, _ in stars]
    place = {node: position for position, node in enumerate([*order, reference])}
    far_ends = [sorted(star, key=place.__getitem__) for _, star in stars]
    slot = {
        pair: number
        for number, pair in enumerate(
            (node, far)
            for node, fars in zip(order, far_ends, strict=True)
            for far in (*fars, reference)
        )
    }
    steps = tuple(
        _step(node, fars, reference, slot) for node, fars in zip(order, far_ends, strict=True)
    )
    forward = [place[branch.a] < place[branch.b] for branch in topology.branches]
    return Program(
        nodes=topology.nodes,
        slots=len(slot),
        shunt_slots=tuple(slot[node, reference] for node in range(topology.nodes)),
        branch_slots=tuple(
            slot[(branch.a, branch.b) if is_forward else (branch.b, branch.a)]
            for branch, is_forward in zip(topology.branches, forward, strict=True)
        ),
        branch_signs=tuple(1 if is_forward else -1 for is_forward in forward),
        loads=tuple(n for n, branch in enumerate(topology.branches) if branch.is_load),
        linear=steps[:linear_nodes],
        core=steps[linear_nodes:],
    )


def _step(node: int, fars: list[int], reference: int, slot: dict[tuple[int, int], int]) -> Step:
    ends = (*fars, reference)
    pairs = ((p, q) for i, p in enumerate(ends) for q in ends[i + 1 :])
    return Step(
        node=node,
        slots=tuple(slot[node, far] for far in ends),
        neighbours=tuple(fars),
        targets=tuple(slot[pair] for pair in pairs),
    )


def _order(topology: Topology) -> tuple[int, list[tuple[int, frozenset[int]]]]:
    """Length of the linear part, then each node with its neighbours when it goes."""
    reference = topology.nodes
    adjacent: dict[int, set[int]] = {node: set() for node in range(topology.nodes)}
    held = set()
    for a, b, is_load in topology.branches:
        if reference not in (a, b):
            adjacent[a].add(b)
            adjacent[b].add(a)
        if is_load:
            held |= {a, b}
    stars = list(_eliminated(adjacent, held, LINEAR_DEGREE))
    linear_nodes = len(stars)
    stars.extend(_eliminated(adjacent, set(), topology.nodes))
    return linear_nodes, stars


def _eliminated(
    adjacent: dict[int, set[int]], held: set[int], degree: int
) -> Iterable[tuple[int, frozenset[int]]]:
    """Take out nodes that are not held, fewest neighbours first, up to that many."""
    free = {node for node in adjacent if node not in held}
    while free:
        node = min(free, key=lambda n: (len(adjacent[n]), n))
        if len(adjacent[node]) > degree:
            return
        free.remove(node)
        star = adjacent.pop(node)
        for far in star:
            adjacent[far] |= star
            adjacent[far] -= {far, node}
        yield node, frozenset(star)
