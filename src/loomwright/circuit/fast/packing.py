"""An elimination program as flat tables of row numbers, for compiled code.

All numbers of the cases of a block lie in one workspace: a row for every value, edge, share and
voltage.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.fast.rows import Places, Rows
from loomwright.circuit.fast.steps import back, forth, ties, ties_back, towards
from loomwright.circuit.layout import Shape

Numbers = NDArray[np.int64]


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
        Rows of edge and conductance of every linear branch whose edge does not last: those that
        have their edge to themselves, and those that are added to what lies there.
    sources : int array
        Of every source rows of drive, conductance and EMF, and the sign of the drive.
    loads : int array
        Of every load row of the edge in the core, sign of the drive, rows of the voltages at
        both ends, row of the factor.
    families : int array
        Each family with its first load and the one behind its last.
    driven : int array
        Which edges of the core are ever driven.
    linear, core, linear_back, core_back : int array
        The steps, as `steps` writes them; of the linear ones back those that lead to what is
        asked.
    tie_rows, tie_slots : int array, shape (branch,)
        Row of the conductance of every linear branch; edge of every branch, the loads last.
    ties, ties_back : int array
        All steps once more, as `steps` writes them.
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
    driven: Numbers
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
    places = Places(shape, values)
    rows = places.rows
    first = len(shape.linear)
    alone: list[tuple[int, int]] = []
    joined: list[tuple[int, int]] = []
    taken = set(program.shunt_slots)
    for slot, edge in zip(program.branch_slots, shape.linear, strict=False):
        if not places.is_lasting(slot):
            to = joined if slot in taken else alone
            to.append((places.edge(slot, core=False), rows.values + edge.row))
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
        driven=_table([n - program.core_slot for n in program.driven if n >= program.core_slot]),
        linear=_table(forth(places, program.linear, core=False)),
        core=_table(forth(places, program.core, core=True)),
        linear_back=_table(back(places, program.linear)),
        core_back=_table(back(places, program.core)),
        tie_rows=_table([rows.values + edge.row for edge in shape.linear]),
        tie_slots=_table(program.branch_slots),
        ties=_table(ties(steps)),
        ties_back=_table(ties_back(steps)),
        counts=(program.slots, program.nodes),
    )


def leading_to(packed: Packed, shape: Shape, nodes: Iterable[int]) -> Packed:
    """The same program with the steps back that lead to some nodes, and no others."""
    places = Places(shape, packed.rows.edges)
    steps = towards(shape.program.linear, set(nodes))
    return packed._replace(linear_back=_table(back(places, steps)))


def fold(packed: Packed) -> Numbers:
    """Lay all tables of a program into one, which is handed over sooner than many.

    First the numbers of `rows` and `counts`, then where each table begins and the last one
    ends, then the tables. `unfold` opens it again.
    """
    tables = [each for each in packed if isinstance(each, np.ndarray)]
    head = (*packed.rows, *packed.counts)
    begins = np.cumsum([len(head) + len(tables) + 1, *map(len, tables)])
    return np.concatenate([np.array(head), begins, *tables]).astype(np.int64)


def _runs(families: Iterable[int]) -> list[tuple[int, int, int]]:
    runs, first = [], 0
    for family, run in groupby(families):
        last = first + len(list(run))
        runs.append((family, first, last))
        first = last
    return runs


def _table(numbers: Sequence[object]) -> Numbers:
    return np.array(numbers, dtype=np.int64).ravel()
