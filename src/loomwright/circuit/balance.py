"""The one balance of a network of sources, resistances and loads: damped Newton.

In each round every load is replaced by its tangent, the linear network is solved, and the
loads move to the voltages found. Two things make this safe from any start:

* The laws increase strictly, so the answer is the minimum of a convex function, the
  co-content. Its derivative along the step needs the laws alone: the sum, over the loads, of
  (current by the law - current the network carries) times the change of voltage. A full step
  is taken unless that derivative shows that it went past the minimum; then the step is cut
  back to near the minimum.
* The linear equations hold exactly after each solve, so the only residual is how far each
  law is from its tangent. The answer is accepted when that is below 1e-11 A and, divided by
  the slope, below 1e-9 V for every load.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from loomwright.circuit.elimination import Workspace, eliminate, substitute_back
from loomwright.circuit.laws import Law
from loomwright.circuit.program import Program, Topology, compile_program
from loomwright.circuit.unsettled import NoSettledState
from loomwright.circuit.values import SHUNT_S, Values

CURRENT_TOLERANCE_A: Final = 1e-11
VOLTAGE_TOLERANCE_V: Final = 1e-9
ROUNDS: Final = 200


@dataclass(frozen=True, slots=True)
class Balance:
    """Voltage of every node and, in the order of the loads, across every load. [V]"""

    voltages_v: tuple[float, ...]
    load_v: tuple[float, ...]
    rounds: int


def find_balance(
    topology: Topology, values: Values, start_v: Sequence[float] | None = None
) -> Balance:
    """Balance of a network.

    Parameters
    ----------
    topology : Topology
        The shape.
    values : Values
        The numbers.
    start_v : sequence of float, optional
        Voltages across the loads to start from; they change the time, not the answer. [V]

    Raises
    ------
    NoSettledState
        If it is not found in 200 rounds.
    """
    program = compile_program(topology)
    linear = _linear_part(program, values)
    eliminate(program.linear, linear)
    laws = [law for law in values.laws if law is not None]
    at_v = list(start_v) if start_v is not None else _first_guess(values, len(laws))
    by_law = [law.current_a(v) for law, v in zip(laws, at_v, strict=True)]
    carried: list[float] | None = None
    voltages = [0.0] * (program.nodes + 1)
    for rounds in range(1, ROUNDS + 1):
        slopes = [law.slope_s(v) for law, v in zip(laws, at_v, strict=True)]
        work = _with_tangents(program, linear, at_v, by_law, slopes)
        eliminate(program.core, work)
        substitute_back(program.core, work, voltages)
        found_v = [
            voltages[topology.branches[n].a] - voltages[topology.branches[n].b]
            for n in program.loads
        ]
        change_v = [v1 - v0 for v1, v0 in zip(found_v, at_v, strict=True)]
        found_a = [i + g * dv for i, g, dv in zip(by_law, slopes, change_v, strict=True)]
        found_law = [law.current_a(v) for law, v in zip(laws, found_v, strict=True)]
        if _is_close(found_law, found_a, slopes):
            substitute_back(program.linear, work, voltages)
            return Balance(tuple(voltages), tuple(found_v), rounds)
        share = 1.0 if carried is None else _share(laws, at_v, change_v, carried, found_a)
        if share == 1.0:
            at_v, by_law, carried = found_v, found_law, found_a
        else:
            at_v = [v + share * dv for v, dv in zip(at_v, change_v, strict=True)]
            by_law = [law.current_a(v) for law, v in zip(laws, at_v, strict=True)]
            carried = [i + share * (j - i) for i, j in zip(carried or (), found_a, strict=True)]
    raise NoSettledState(f"no balance of currents was found in {ROUNDS} rounds")


def _linear_part(program: Program, values: Values) -> Workspace:
    work = Workspace.of(program)
    for slot in program.shunt_slots:
        work.conductance_s[slot] = SHUNT_S
    for slot, sign, g, emf, law in zip(
        program.branch_slots,
        program.branch_signs,
        values.conductance_s,
        values.emf_v,
        values.laws,
        strict=True,
    ):
        if law is None:
            work.conductance_s[slot] += g
            work.driven_a[slot] += sign * g * emf
    return work


def _with_tangents(
    program: Program,
    linear: Workspace,
    at_v: Sequence[float],
    by_law: Sequence[float],
    slopes: Sequence[float],
) -> Workspace:
    work = linear.copy()
    for n, v, current, g in zip(program.loads, at_v, by_law, slopes, strict=True):
        slot = program.branch_slots[n]
        work.conductance_s[slot] += g
        work.driven_a[slot] += program.branch_signs[n] * (g * v - current)
    return work


def _first_guess(values: Values, loads: int) -> list[float]:
    """Every load at the highest EMF: those in dead circuits fall from there."""
    return [0.9 * max((abs(emf) for emf in values.emf_v), default=0.0)] * loads


def _is_close(by_law: Sequence[float], carried: Sequence[float], slopes: Sequence[float]) -> bool:
    return all(
        abs(i - j) <= min(CURRENT_TOLERANCE_A, VOLTAGE_TOLERANCE_V * g)
        for i, j, g in zip(by_law, carried, slopes, strict=True)
    )


def _share(
    laws: Sequence[Law],
    at_v: Sequence[float],
    change_v: Sequence[float],
    carried: Sequence[float],
    found_a: Sequence[float],
) -> float:
    """Share of the step to take: 1, or less if the co-content rises again before its end."""

    def rise(t: float) -> float:
        return sum(
            (law.current_a(v + t * dv) - (1.0 - t) * i - t * j) * dv
            for law, v, dv, i, j in zip(laws, at_v, change_v, carried, found_a, strict=True)
        )

    start, end = rise(0.0), rise(1.0)
    if start >= 0.0 or end <= -0.5 * start:
        return 1.0
    low, high, low_rise, high_rise = 0.0, 1.0, start, end
    for _ in range(30):
        t = (low * high_rise - high * low_rise) / (high_rise - low_rise)
        t = min(max(t, low + 0.1 * (high - low)), high - 0.1 * (high - low))
        at = rise(t)
        if abs(at) <= -0.2 * start:
            return t
        if at < 0.0:
            low, low_rise = t, at
        else:
            high, high_rise = t, at
    return low or high
