"""The network with every load on its tangent: linear, so solved at once."""

from __future__ import annotations

from typing import Any

import numpy as np

from loomwright.circuit.batch import Floats
from loomwright.circuit.elimination import Meshes, Row, eliminate, substitute_back
from loomwright.circuit.layout import Shape
from loomwright.circuit.network import SHUNT_S
from loomwright.circuit.room import Room


class TangentNetwork:
    """The linear part of a batch, eliminated; answers tangents of the loads with voltages."""

    def __init__(self, shape: Shape, values: Floats, room: Room) -> None:
        self.shape, self.room = shape, room
        program = self.program = shape.program
        self.count = values.shape[1]
        factor = values[[load.row for load in shape.loads]]
        self.factor = None if (factor == 1.0).all() else factor
        conductance, driven = self._assembled(values)
        self.linear = Meshes(program, *self._spread(conductance, driven))
        eliminate(program.linear, self.linear)
        self.saved = self._core(conductance, driven)
        self.work = self.linear
        self.found: list[Row] = [0.0] * (program.nodes + 1)

    def answer(self, current: Floats, slope: Floats, here: Floats) -> Floats:
        """Voltages across the loads with every load on its tangent, shape (load, case)."""
        program, shape = self.program, self.shape
        self.work = self._fresh()
        g, c = self.work.conductance_s, self.work.driven_a
        first = len(shape.linear)
        drive = slope * here - current
        for n, (add_g, add_c) in enumerate(zip(_rows(slope), _rows(drive), strict=True), first):
            slot = program.branch_slots[n]
            g[slot] += add_g
            if program.branch_signs[n] > 0:
                c[slot] += add_c
            else:
                c[slot] -= add_c
        eliminate(program.core, self.work)
        substitute_back(program.core, self.work, self.found)
        there = np.empty_like(here)
        for n, load in enumerate(shape.loads):
            there[n] = self.found[load.a] - self.found[load.b]
        return there

    def voltages(self) -> list[Row]:
        """Voltage of every node after the last answer, the reference last."""
        substitute_back(self.program.linear, self.work, self.found)
        return self.found

    def _assembled(self, values: Floats) -> tuple[Floats, Floats]:
        """Conductance of every edge, (slot, case), and drive of those driven, (driven, case)."""
        program = self.program
        conductance = self.room.table("conductance", program.slots, self.count)
        driven = self.room.table("driven", len(program.driven), self.count)
        conductance[:] = driven[:] = 0.0
        conductance[list(program.shunt_slots)] = SHUNT_S
        for slot, sign, edge in zip(
            program.branch_slots, program.branch_signs, self.shape.linear, strict=False
        ):
            conductance[slot] += values[edge.row]
            if edge.emf_row >= 0:
                drive = values[edge.row] * values[edge.emf_row]
                driven[program.driven.index(slot)] += sign * drive
        return conductance, driven

    def _spread(self, conductance: Floats, driven: Floats) -> tuple[list[Row], list[Row]]:
        """Rows of both by slot; 0 for the drive of an edge that nothing drives."""
        drive: list[Row] = [0.0] * self.program.slots
        for slot, row in zip(self.program.driven, _rows(driven), strict=True):
            drive[slot] = row
        return _rows(conductance), drive

    def _core(self, conductance: Floats, driven: Floats) -> tuple[Any, Any]:
        """What the linear part leaves in the core: lists of floats, or tables."""
        first = self.program.core_slot
        if self.count == 1:
            return self.linear.conductance_s[first:], self.linear.driven_a[first:]
        in_core = next((n for n, s in enumerate(self.program.driven) if s >= first), len(driven))
        return conductance[first:], driven[in_core:]

    def _fresh(self) -> Meshes:
        """The core as the linear part left it, and the linear part as it is."""
        program = self.program
        below: list[Row] = [0.0] * program.core_slot
        conductance, driven = self.saved
        if self.count == 1:
            work = Meshes(program, below + conductance, below + driven)
        else:
            work_g = self.room.table("work conductance", *conductance.shape)
            work_c = self.room.table("work driven", *driven.shape)
            work_g[:], work_c[:] = conductance, driven
            drive: list[Row] = [0.0] * program.slots
            slots = program.driven[len(program.driven) - len(driven) :]
            for slot, row in zip(slots, work_c, strict=True):
                drive[slot] = row
            work = Meshes(program, below + list(work_g), drive)
        work.shares, work.base_v = self.linear.shares[:], self.linear.base_v[:]
        return work


def _rows(table: Floats) -> list[Row]:
    """Rows of a table: floats for one case, else arrays that share its memory."""
    rows: list[Row] = table[:, 0].tolist() if table.shape[1] == 1 else list(table)
    return rows
