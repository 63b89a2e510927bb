"""From the shape of a network to an elimination program: plain data, made once.

The nodes are eliminated one after another, each star of edges turned into the mesh that
acts the same from outside (the star-mesh transformation). Which node goes when depends only
on the shape, so commands, faults and tolerances are other numbers in the same program.

The order has two parts. First go nodes that no load touches, while few edges meet there:
fuses, switches, wires, contacts. They are linear and are eliminated once in a solve. The rest
is the core, eliminated once in every Newton round. Within each part the node where the
fewest edges meet goes first (minimum degree), which keeps the meshes small: the two ends of
a lamp go first of the core, each with an edge or two.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NamedTuple

LINEAR_DEGREE: Final = 3
"""At most this many neighbours (the reference aside) for a node of the linear part."""


class Branch(NamedTuple):
    """One edge of the network, from node number `a` to `b`.

    `is_load` says that its law may bend, `is_source` that an EMF may drive it.
    """

    a: int
    b: int
    is_load: bool = False
    is_source: bool = False


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
    meshes : tuple of (int, int, int)
        (slot, i, j): the edge between the far ends of edges i < j gains m_i g_j.
    forward, backward : tuple of (int, int, int)
        (slot, i, j): the edge there gains m_i c_j, or loses it. Only edges that something may
        drive are named.
    driven : tuple of int
        Which of its edges may be driven.
    """

    node: int
    slots: tuple[int, ...]
    neighbours: tuple[int, ...]
    meshes: tuple[tuple[int, int, int], ...]
    forward: tuple[tuple[int, int, int], ...]
    backward: tuple[tuple[int, int, int], ...]
    driven: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Program:
    """What to do, in order, to solve any network of one shape.

    Parameters
    ----------
    nodes : int
        Count of nodes, the reference left out.
    slots : int
        Count of edges of the network and of every mesh made on the way.
    core_slot : int
        The edges of the core are those from here on.
    shunt_slots : tuple of int
        The edge from each node to the reference.
    branch_slots : tuple of int
        The edge each branch lies on.
    branch_signs : tuple of int
        1 if the first node of the branch goes before its second, else -1.
    loads : tuple of int
        The branches that are loads.
    driven : tuple of int
        The edges that a source or a load may drive, in the end.
    linear, core : tuple of Step
        The two parts of the elimination.
    """

    nodes: int
    slots: int
    core_slot: int
    shunt_slots: tuple[int, ...]
    branch_slots: tuple[int, ...]
    branch_signs: tuple[int, ...]
    loads: tuple[int, ...]
    driven: tuple[int, ...]
    linear: tuple[Step, ...]
    core: tuple[Step, ...]


@lru_cache(maxsize=128)
def compile_program(topology: Topology) -> Program:
    """Elimination program of a shape; the same shape gives the same program."""
    reference, branches = topology.nodes, topology.branches
    linear_nodes, stars = _order(topology)
    order = [node for node, _ in stars]
    place = {node: position for position, node in enumerate([*order, reference])}
    fars = [sorted(star, key=place.__getitem__) for _, star in stars]
    slot: dict[tuple[int, int], int] = {}
    for node, ends in zip(order, fars, strict=True):
        for far in (*ends, reference):
            slot[node, far] = len(slot)
    forward = [place[branch.a] < place[branch.b] for branch in branches]
    on = [
        slot[(branch.a, branch.b) if is_forward else (branch.b, branch.a)]
        for branch, is_forward in zip(branches, forward, strict=True)
    ]
    driven = [False] * len(slot)
    for place_on, branch in zip(on, branches, strict=True):
        driven[place_on] |= branch.is_source
    rest = list(zip(order, fars, strict=True))
    linear = [_step(*one, reference, slot, driven) for one in rest[:linear_nodes]]
    for place_on, branch in zip(on, branches, strict=True):
        driven[place_on] |= branch.is_load
    core = [_step(*one, reference, slot, driven) for one in rest[linear_nodes:]]
    return Program(
        nodes=topology.nodes,
        slots=len(slot),
        core_slot=min((step.slots[0] for step in core), default=len(slot)),
        shunt_slots=tuple(slot[node, reference] for node in range(topology.nodes)),
        branch_slots=tuple(on),
        branch_signs=tuple(1 if is_forward else -1 for is_forward in forward),
        loads=tuple(n for n, branch in enumerate(branches) if branch.is_load),
        driven=tuple(n for n, is_driven in enumerate(driven) if is_driven),
        linear=tuple(linear),
        core=tuple(core),
    )


def _step(
    node: int,
    neighbours: Sequence[int],
    reference: int,
    slot: dict[tuple[int, int], int],
    driven: list[bool],
) -> Step:
    """Step for a node, and what it leaves driven marked in `driven`."""
    ends = (*neighbours, reference)
    slots = tuple(slot[node, far] for far in ends)
    live = tuple(driven[one] for one in slots)
    pairs = [
        (slot[p, q], i, j) for i, p in enumerate(ends) for j, q in enumerate(ends[i + 1 :], i + 1)
    ]
    for target, i, j in pairs:
        driven[target] |= live[i] or live[j]
    return Step(
        node=node,
        slots=slots,
        neighbours=tuple(neighbours),
        meshes=tuple(pairs),
        forward=tuple((target, i, j) for target, i, j in pairs if live[j]),
        backward=tuple((target, j, i) for target, i, j in pairs if live[i]),
        driven=tuple(n for n, is_live in enumerate(live) if is_live),
    )


def _order(topology: Topology) -> tuple[int, list[tuple[int, frozenset[int]]]]:
    """Length of the linear part, then each node with its neighbours when it goes."""
    reference = topology.nodes
    adjacent: dict[int, set[int]] = {node: set() for node in range(topology.nodes)}
    held = set()
    for a, b, is_load, _ in topology.branches:
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
    queue = [(len(far), node) for node, far in adjacent.items() if node not in held]
    heapq.heapify(queue)
    while queue:
        size, node = heapq.heappop(queue)
        if node not in adjacent or size != len(adjacent[node]):
            continue
        if size > degree:
            return
        star = adjacent.pop(node)
        for far in star:
            adjacent[far] |= star
            adjacent[far] -= {far, node}
            if far not in held:
                heapq.heappush(queue, (len(adjacent[far]), far))
        yield node, frozenset(star)
