"""The one balance of a network of sources, resistances and loads: Newton's method, batched.

In each round every load is replaced by its tangent, the linear network is solved, and the
loads move to the voltages found. The linear equations hold exactly after each solve, so the
only residual is how far each law is from its tangent there; the bend of the law bounds that.
A case is done when for every load the step was short and that bound is below 1e-10 A and,
divided by the slope, below 1e-9 V; or when the voltages no longer move.

Two stops keep the steps from ringing: a filament that would change its sign stops at 0 V on
the way, and a string that falls below its threshold in the first rounds is tried dark.

For the few cases that still do not settle there is the careful way. The laws increase
strictly, so the answer is the minimum of a convex function, the co-content. Its derivative
along the step needs the laws alone: the sum, over the loads, of (current by the law - current
the network carries) times the change of voltage. A full step is taken unless that derivative
shows that it went past the minimum; then the step is cut back to near the minimum. This
settles from any start.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.batch import Floats
from loomwright.circuit.elimination import (
    Meshes,
    Row,
    eliminate,
    substitute_back,
    ties_to_reference,
)
from loomwright.circuit.forms import REACH_V
from loomwright.circuit.layout import Shape
from loomwright.circuit.network import SHUNT_S
from loomwright.circuit.plan import STOP, THRESHOLD, Laws
from loomwright.circuit.room import Room

CURRENT_TOLERANCE_A: Final = 1e-10
VOLTAGE_TOLERANCE_V: Final = 1e-9
STANDSTILL: Final = 1e-12
DARK_ROUNDS: Final = 4
"""Rounds in which a string that falls below its threshold is tried dark."""

HELD_S: Final = 1e-5
"""A node tied to the reference by less than this floats: a meter on it reads nothing sure. [S]"""


@dataclass(frozen=True, slots=True)
class Balance:
    """Balance of a batch, for the cases that settled.

    Attributes
    ----------
    voltages_v : list of Row
        Of every node, the reference last. [V]
    load_v : float array, shape (load, case)
        Across every load. [V]
    residual_a : float array, shape (case,)
        No law is farther than this from the current the network carries. [A]
    settled : bool array, shape (case,)
        Whether the case is done; if not, `load_v` is where to go on from.
    rounds : int
        Newton rounds.
    tie_s : float array, shape (load, case)
        How strongly each load ties its ends: its slope or, if that is more, its current over
        its voltage. A lamp at its current limit still ties its ends together. [S]
    """

    voltages_v: list[Row]
    load_v: Floats
    residual_a: Floats
    settled: NDArray[np.bool_]
    rounds: int
    tie_s: Floats


def find_balance(
    shape: Shape,
    laws: Laws,
    values: Floats,
    start_v: Floats,
    *,
    rounds: int,
    leave: float = 0.0,
    room: Room | None = None,
) -> Balance:
    """Balance of every case, by full steps with stops.

    Parameters
    ----------
    shape : Shape
        The program, and its rows.
    laws : Laws
        Of the loads in these cases.
    values : float array, shape (row, case)
        The numbers.
    start_v : float array, shape (load, case)
        Voltages across the loads to start from; they change the time, not the answer. [V]
    rounds : int
        At most so many.
    leave : float
        Share of the cases that may be left unsettled.
    room : Room, optional
        Memory to use.
    """
    network = _Network(shape, values, room or Room())
    factor = network.factor
    here = start_v
    for done in range(1, rounds + 1):
        current, slope, bend = laws.evaluate(here, factor)
        there = network.answer(current, slope, here)
        step = there - here
        moved = np.abs(step)
        miss = bend * moved * moved
        fine = (miss <= np.minimum(CURRENT_TOLERANCE_A, VOLTAGE_TOLERANCE_V * slope)) & (
            moved <= REACH_V
        )
        fine |= moved <= STANDSTILL * (1.0 + np.abs(there))
        settled = np.asarray(fine.all(axis=0))
        left = len(settled) - int(np.count_nonzero(settled))
        if left <= leave * len(settled) or done == rounds:
            break
        here = _stopped(laws, here, there, done)
    return Balance(
        network.voltages(),
        there if left == 0 else np.where(settled, there, _stopped(laws, here, there, done)),
        miss.max(axis=0, initial=0.0),
        settled,
        done,
        _ties(there, current + slope * step, slope),
    )


def find_balance_carefully(
    shape: Shape, laws: Laws, values: Floats, start_v: Floats, rounds: int
) -> Balance:
    """Balance of every case from any start, by steps cut back along the co-content.

    Parameters
    ----------
    shape : Shape
        The program, and its rows.
    laws : Laws
        Of the loads in these cases.
    values : float array, shape (row, case)
        The numbers.
    start_v : float array, shape (load, case)
        Voltages across the loads to start from. [V]
    rounds : int
        At most so many.
    """
    network = _Network(shape, values, Room())
    factor = network.factor
    here, carried_here = start_v, None
    current, slope, _ = laws.evaluate(here, factor)
    for done in range(1, rounds + 1):
        there = network.answer(current, slope, here)
        carried = current + slope * (there - here)
        current_there, slope_there, _ = laws.evaluate(there, factor)
        miss = np.abs(current_there - carried)
        fine = miss <= np.minimum(CURRENT_TOLERANCE_A, VOLTAGE_TOLERANCE_V * slope)
        fine |= np.abs(there - here) <= STANDSTILL * (1.0 + np.abs(there))
        settled = np.asarray(fine.all(axis=0))
        if settled.all() or done == rounds:
            break
        share = np.ones(there.shape[1])
        if carried_here is not None:
            share = _share(laws, factor, (here, there), (carried_here, carried))
        carried_here = carried if carried_here is None else carried_here
        carried_here = carried_here + share * (carried - carried_here)
        here = here + share * (there - here)
        current, slope, _ = laws.evaluate(here, factor)
    return Balance(
        network.voltages(),
        there,
        miss.max(axis=0, initial=0.0),
        settled,
        done,
        _ties(there, current_there, slope_there),
    )


def held_nodes(shape: Shape, values: Floats, tie_s: Floats) -> NDArray[np.bool_]:
    """Which nodes are within reach of the reference over 1e-5 S or more, shape (node, case)."""
    count = values.shape[1]
    program = shape.program
    ties = np.concatenate([values[[edge.row for edge in shape.linear]], tie_s]) >= HELD_S
    packed = np.packbits(ties, axis=1, bitorder="little")
    tied = [0] * program.slots
    for slot, bits in zip(program.branch_slots, packed, strict=True):
        tied[slot] |= int.from_bytes(bits.tobytes(), "little")
    held = ties_to_reference((*program.linear, *program.core), tied, program)
    size = packed.shape[1]
    raw = b"".join(bits.to_bytes(size, "little") for bits in held)
    table = np.frombuffer(raw, dtype=np.uint8).reshape(program.nodes, size)
    return np.unpackbits(table, axis=1, count=count, bitorder="little").astype(bool)


class _Network:
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


def _stopped(laws: Laws, here: Floats, there: Floats, done: int) -> Floats:
    """Where to go: there, or 0 V for a load that stops over."""
    stop = (np.abs(here) > laws.parameters[STOP]) & (here * there < 0.0)
    if done <= DARK_ROUNDS:
        threshold = laws.parameters[THRESHOLD]
        stop |= (here > threshold) & (there < threshold)
    return np.where(stop, 0.0, there)


def _ties(across_v: Floats, current: Floats, slope: Floats) -> Floats:
    chord = np.divide(current, across_v, out=np.zeros_like(current), where=across_v != 0.0)
    return np.maximum(slope, np.abs(chord))


def _share(
    laws: Laws,
    factor: Floats | None,
    ends_v: tuple[Floats, Floats],
    carried_a: tuple[Floats, Floats],
) -> Floats:
    """Share of the step to take in each case: 1, or near where the co-content stops falling."""
    here, there = ends_v
    step, change = there - here, carried_a[1] - carried_a[0]

    def rise(t: Floats) -> Floats:
        current = laws.evaluate(here + t * step, factor)[0]
        total: Floats = ((current - carried_a[0] - t * change) * step).sum(axis=0)
        return total

    low, high = np.zeros(here.shape[1]), np.ones(here.shape[1])
    start = low_rise = rise(low)
    high_rise = rise(high)
    share = np.ones(here.shape[1])
    searching = (start < 0.0) & (high_rise > -0.5 * start)
    for _ in range(30):
        if not searching.any():
            return share
        span = np.where(searching, high_rise - low_rise, 1.0)
        t = (low * high_rise - high * low_rise) / span
        t = np.clip(t, low + 0.1 * (high - low), high - 0.1 * (high - low))
        at = rise(np.where(searching, t, 0.0))
        share = np.where(searching, t, share)
        searching &= np.abs(at) > -0.2 * start
        below = at < 0.0
        low, low_rise = np.where(below, t, low), np.where(below, at, low_rise)
        high, high_rise = np.where(below, high, t), np.where(below, high_rise, at)
    return np.where(searching, np.where(low > 0.0, low, high), share)
