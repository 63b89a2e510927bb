"""An elimination program as flat tables of row numbers, for compiled code.

All numbers of eight cases lie in one workspace: a row of eight for every value, edge, share
and voltage. Steps that do not touch each other are put side by side with their like, so that
the compiled code is a few straight loops: "the next forty steps have two neighbours each".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations, groupby
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.layout import Shape
from loomwright.circuit.plan import THRESHOLD
from loomwright.circuit.program import Step

Numbers = NDArray[np.int64]

PARAMETER_ROWS: Final = THRESHOLD + 1
"""Parameters of a law, its kinks among them."""


class Rows(NamedTuple):
    """First rows of what the workspace holds.

    Attributes
    ----------
    values
        The numbers of the cases.
    edges, drives
        Conductance and drive of every edge of the linear part.
    kept, kept_drives
        Conductance and drive of every edge of the core, as the linear part leaves them.
    core, core_drives
        A copy in which the core is eliminated.
    shares, bases
        What `substitute_back` needs, of every node.
    voltages
        Of every node, the reference last.
    across, tangents
        Voltage across every load; its current, slope and bend there, and the voltage found.
    parameters
        First of the law of every load, then second, and so on.
    worst
        The largest miss of a law.
    end
        Behind the last row.
    """

    values: int
    edges: int
    kept: int
    drives: int
    kept_drives: int
    core: int
    core_drives: int
    shares: int
    bases: int
    voltages: int
    across: int
    tangents: int
    parameters: int
    worst: int
    end: int


class Packed(NamedTuple):
    """A program for compiled code.

    Attributes
    ----------
    rows : Rows
        Where everything is.
    shunts, empty : int array
        Rows of the edges that carry the shunts, and of conductances and drives that are nothing
        at first. Drives of edges that nothing drives are never touched.
    alone, joined : int array
        Rows of edge and conductance of every linear branch: those that have their edge to
        themselves, and those that are added to what lies there.
    sources : int array
        Of every source rows of drive, conductance and EMF, and the sign of the drive.
    loads : int array
        Of every load row of the edge in the core, sign of the drive, rows of the voltages at
        both ends, row of the factor.
    families : int array
        Each family with its first load and the one behind its last.
    linear, core, linear_back, core_back : int array
        The steps, as `_forth` and `_back` write them.
    tie_rows, tie_slots : int array, shape (branch,)
        Row of the conductance of every linear branch; edge of every branch, the loads last.
    ties, ties_back : int array
        All steps once more, as `_ties` and `_ties_back` write them.
    counts : tuple of int
        Edges and nodes of the program.
    """

    rows: Rows
    shunts: Numbers
    empty: Numbers
    alone: Numbers
    joined: Numbers
    sources: Numbers
    loads: Numbers
    families: Numbers
    linear: Numbers
    core: Numbers
    linear_back: Numbers
    core_back: Numbers
    tie_rows: Numbers
    tie_slots: Numbers
    ties: Numbers
    ties_back: Numbers
    counts: tuple[int, int]


def pack(shape: Shape, values: int) -> Packed:
    """Pack a program whose cases have so many values."""
    program = shape.program
    places = _Places(shape, values)
    rows = places.rows
    first = len(shape.linear)
    alone: list[tuple[int, int]] = []
    joined: list[tuple[int, int]] = []
    taken = set(program.shunt_slots)
    for slot, edge in zip(program.branch_slots, shape.linear, strict=False):
        (joined if slot in taken else alone).append((rows.edges + slot, rows.values + edge.row))
        taken.add(slot)
    steps = (*program.linear, *program.core)
    return Packed(
        rows=rows,
        shunts=_table([rows.edges + slot for slot in program.shunt_slots]),
        empty=_table(
            [rows.edges + slot for slot in range(program.slots) if slot not in taken]
            + [rows.drives + slot for slot in program.driven]
        ),
        alone=_table(alone),
        joined=_table(joined),
        sources=_table(places.sources()),
        loads=_table([places.load(n, first + n) for n in range(len(shape.loads))]),
        families=_table(_runs([load.family for load in shape.loads])),
        linear=_table(_forth(places, program.linear, core=False)),
        core=_table(_forth(places, program.core, core=True)),
        linear_back=_table(_back(places, program.linear)),
        core_back=_table(_back(places, program.core)),
        tie_rows=_table([rows.values + edge.row for edge in shape.linear]),
        tie_slots=_table(program.branch_slots),
        ties=_table(_ties(steps)),
        ties_back=_table(_ties_back(steps)),
        counts=(program.slots, program.nodes),
    )


def fold(packed: Packed) -> Numbers:
    """Lay all tables of a program into one, which is handed over sooner than many.

    First the numbers of `rows` and `counts`, then where each table begins and the last one
    ends, then the tables. `unfold` opens it again.
    """
    tables = [each for each in packed if isinstance(each, np.ndarray)]
    head = (*packed.rows, *packed.counts)
    begins = np.cumsum([len(head) + len(tables) + 1, *map(len, tables)])
    return np.concatenate([np.array(head), begins, *tables]).astype(np.int64)


class _Places:
    """Rows of a program's parts."""

    def __init__(self, shape: Shape, values: int) -> None:
        self.shape, program = shape, shape.program
        self.first_core = program.core_slot
        self.share_of, shares = {}, 0
        for step in (*program.linear, *program.core):
            self.share_of[step.node] = shares
            shares += len(step.slots)
        linear, core, loads = program.core_slot, program.slots - program.core_slot, len(shape.loads)
        of_nodes = (shares, program.nodes, program.nodes + 1)
        of_loads = (loads, 4 * loads, loads * PARAMETER_ROWS)
        sizes = (values, linear, core, linear, core, core, core, *of_nodes, *of_loads, 1)
        self.rows = Rows(*np.cumsum((0, *sizes)).tolist())

    def edge(self, slot: int, *, core: bool) -> int:
        """Row of a conductance."""
        return self.rows.core + slot - self.first_core if core else self.rows.edges + slot

    def drive(self, slot: int, *, core: bool) -> int:
        """Row of a drive."""
        first = self.rows.core_drives - self.first_core if core else self.rows.drives
        return first + slot

    def sources(self) -> list[tuple[int, int, int, int]]:
        """Rows of the linear branches with an EMF."""
        program, rows = self.shape.program, self.rows
        return [
            (
                self.drive(program.branch_slots[n], core=False),
                rows.values + edge.row,
                rows.values + edge.emf_row,
                program.branch_signs[n],
            )
            for n, edge in enumerate(self.shape.linear)
            if edge.emf_row >= 0
        ]

    def load(self, number: int, branch: int) -> tuple[int, ...]:
        """Rows of a load."""
        program, load = self.shape.program, self.shape.loads[number]
        edge = self.edge(program.branch_slots[branch], core=True)
        ends = self.rows.voltages + load.a, self.rows.voltages + load.b
        return (edge, program.branch_signs[branch], *ends, self.rows.values + load.row)


def _forth(places: _Places, steps: Sequence[Step], *, core: bool) -> list[int]:
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
            share = places.rows.shares + places.share_of[step.node]
            out += [share, places.rows.bases + step.node]
            out += [places.edge(slot, core=core) for slot in step.slots]
            out += [places.edge(target, core=core) for target, _, _ in step.meshes]
            drives = [places.drive(slot, core=core) for slot in step.slots]
            out += [drives[i] for i in step.driven]
            for target, i, j in (*step.forward, *step.backward):
                out += [places.drive(target, core=core), share + i, drives[j]]
    return out


def _back(places: _Places, steps: Sequence[Step]) -> list[int]:
    """Steps backwards, in runs of their like.

    Of each run: count of neighbours, whether anything drives, count of steps. Of each step:
    row of the voltage, first row of the shares, row of the base, rows of the voltages of the
    neighbours.
    """
    out: list[int] = []
    for (size, driven, _, _), run in reversed(_alike(steps)):
        out += [size, driven, len(run)]
        for step in reversed(run):
            share = places.rows.shares + places.share_of[step.node]
            first = places.rows.voltages
            out += [first + step.node, share, places.rows.bases + step.node]
            out += [first + far for far in step.neighbours]
    return out


Kind = tuple[int, int, int, int]
"""Neighbours of a step, edges of its star that are driven, drives it adds and takes."""


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


def _ties(steps: Sequence[Step]) -> list[int]:
    """Slots of sum and factors of every product, step by step."""
    return [
        slot
        for step in steps
        for (target, _, _), pair in zip(step.meshes, combinations(step.slots, 2), strict=True)
        for slot in (target, *pair)
    ]


def _ties_back(steps: Sequence[Step]) -> list[int]:
    """Steps backwards: node, slot to the reference, count, then slot and node of each other."""
    out: list[int] = []
    for step in reversed(steps):
        out += [step.node, step.slots[-1], len(step.neighbours)]
        for slot, far in zip(step.slots, step.neighbours, strict=False):
            out += [slot, far]
    return out


def _runs(families: Iterable[int]) -> list[tuple[int, int, int]]:
    runs, first = [], 0
    for family, run in groupby(families):
        last = first + len(list(run))
        runs.append((family, first, last))
        first = last
    return runs


def _table(numbers: Sequence[object]) -> Numbers:
    return np.array(numbers, dtype=np.int64).ravel()
