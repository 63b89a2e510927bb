"""Steps of an elimination as flat tables of rows, for compiled code.

Steps that do not touch each other are put side by side with their like, so that the compiled
code is a few straight loops: "the next ten steps have two neighbours each".
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, groupby

from loomwright.circuit.fast.rows import Places
from loomwright.circuit.program import Step

Kind = tuple[int, int, int, int]
"""Neighbours of a step, edges of its star that are driven, drives it adds and takes."""


def forth(places: Places, steps: Sequence[Step], *, core: bool) -> list[int]:
    """Steps of the elimination, in runs of their like.

    Of each run: count of neighbours, of edges that are driven, of products added to drives and
    taken from them, of steps. Of each step: first row of its shares; row of its base; rows of
    the edges of its star; rows of the edges between the far ends; rows of the drives; rows of
    each product: sum, share, drive.
    """
    out: list[int] = []
    for (size, driven, added, taken), run in _alike(steps):
        out += [size, driven, added, taken, len(run)]
        for step in run:
            share = places.share(step.node)
            out += [share, places.rows.bases + step.node]
            out += [places.edge(slot, core=core) for slot in step.slots]
            out += [places.edge(target, core=core) for target, _, _ in step.meshes]
            drives = [places.drive(slot, core=core) for slot in step.slots]
            out += [drives[i] for i in step.driven]
            for target, i, j in (*step.forward, *step.backward):
                out += [places.drive(target, core=core), share + i, drives[j]]
    return out


def back(places: Places, steps: Sequence[Step]) -> list[int]:
    """Steps backwards, in runs of their like.

    Of each run: count of neighbours, whether anything drives, count of steps. Of each step:
    row of the voltage, first row of the shares, row of the base, rows of the voltages of the
    neighbours.
    """
    out: list[int] = []
    for (size, driven, _, _), run in reversed(_alike(steps)):
        out += [size, driven, len(run)]
        for step in reversed(run):
            first = places.rows.voltages
            out += [first + step.node, places.share(step.node), places.rows.bases + step.node]
            out += [first + far for far in step.neighbours]
    return out


def towards(steps: Sequence[Step], nodes: set[int]) -> list[Step]:
    """Those of the steps, in their order, that the voltages of some nodes depend on."""
    needed, found = set(nodes), []
    for step in steps:
        if step.node in needed:
            needed.update(step.neighbours)
            found.append(step)
    return found


def _alike(steps: Sequence[Step]) -> list[tuple[Kind, list[Step]]]:
    """Steps in an order that gives the same, those that are alike together.

    A step must come behind those whose star it is in. Steps equally far down touch neither
    each other nor each other's edges to the nodes still to go; they only add to these.
    """
    depth: dict[int, int] = {}
    for step in steps:
        below = depth.setdefault(step.node, 0) + 1
        for far in step.neighbours:
            depth[far] = max(depth.get(far, 0), below)

    def kind(step: Step) -> Kind:
        drives = len(step.driven), len(step.forward), len(step.backward)
        return len(step.neighbours), *drives

    ordered = sorted(steps, key=lambda step: (depth[step.node], kind(step)))
    return [(like, list(run)) for like, run in groupby(ordered, kind)]


def ties(steps: Sequence[Step]) -> list[int]:
    """Slots of sum and factors of every product, step by step."""
    return [
        slot
        for step in steps
        for (target, _, _), pair in zip(step.meshes, combinations(step.slots, 2), strict=True)
        for slot in (target, *pair)
    ]


def ties_back(steps: Sequence[Step]) -> list[int]:
    """Steps backwards: node, slot to the reference, count, then slot and node of each other."""
    out: list[int] = []
    for step in reversed(steps):
        out += [step.node, step.slots[-1], len(step.neighbours)]
        for slot, far in zip(step.slots, step.neighbours, strict=False):
            out += [slot, far]
    return out
