"""Where everything lies in the workspace of compiled code: rows of a number for each case."""

from __future__ import annotations

from collections import Counter
from itertools import accumulate
from typing import Final, NamedTuple

from loomwright.circuit.layout import Shape
from loomwright.circuit.plan import THRESHOLD

PARAMETER_ROWS: Final = THRESHOLD + 1
"""Parameters of a law, its kinks among them."""


class Rows(NamedTuple):
    """First rows of what the workspace holds.

    Attributes
    ----------
    values
        The numbers of the cases.
    edges, drives
        Conductance and drive of every edge of the linear part; a conductance that is a number
        of the case, and nothing is added to it, is left where that is.
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


class Places:
    """Rows of the parts of a program whose cases have so many values."""

    def __init__(self, shape: Shape, values: int) -> None:
        self.shape, program = shape, shape.program
        self.first_core = program.core_slot
        share_of, shares = {}, 0
        for step in (*program.linear, *program.core):
            share_of[step.node] = shares
            shares += len(step.slots)
        linear, core, loads = program.core_slot, program.slots - program.core_slot, len(shape.loads)
        of_nodes = (shares, program.nodes, program.nodes + 1)
        of_loads = (loads, 4 * loads, loads * PARAMETER_ROWS)
        sizes = (values, linear, core, linear, core, core, core, *of_nodes, *of_loads, 1)
        self.rows = Rows(*accumulate((0, *sizes)))
        self._share_of = share_of
        self._values = {slot: self.rows.values + row for slot, row in _lasting(shape).items()}

    def is_lasting(self, slot: int) -> bool:
        """Whether an edge is a number of the case, as it stands there, to the end."""
        return slot in self._values

    def share(self, node: int) -> int:
        """Row of the first share of a node."""
        return self.rows.shares + self._share_of[node]

    def edge(self, slot: int, *, core: bool) -> int:
        """Row of a conductance: in the core, or in the linear part."""
        if core:
            return self.rows.core + slot - self.first_core
        return self._values.get(slot, self.rows.edges + slot)

    def drive(self, slot: int, *, core: bool) -> int:
        """Row of a drive."""
        first = self.rows.core_drives - self.first_core if core else self.rows.drives
        return first + slot

    def sources(self) -> list[tuple[int, int, int, int]]:
        """Of the linear branches with an EMF rows of drive, conductance, EMF; sign of the drive."""
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
        """Rows of a load: its edge, the sign of its drive, both ends, its factor."""
        program, load = self.shape.program, self.shape.loads[number]
        edge = self.edge(program.branch_slots[branch], core=True)
        ends = self.rows.voltages + load.a, self.rows.voltages + load.b
        return (edge, program.branch_signs[branch], *ends, self.rows.values + load.row)


def _lasting(shape: Shape) -> dict[int, int]:
    """Edges of the linear part that are one branch each and get no share of a star: its number."""
    program = shape.program
    places = zip(program.branch_slots, shape.linear, strict=False)
    there = [(slot, edge.row) for slot, edge in places if slot < program.core_slot]
    branches = Counter(slot for slot, _ in there)
    changing = {target for step in program.linear for target, _, _ in step.meshes}
    changing.update(program.shunt_slots)
    return {slot: row for slot, row in there if branches[slot] == 1 and slot not in changing}
