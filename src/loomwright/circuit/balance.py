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
  the slope, below 1e-9 V for every load; or when the voltages no longer move.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from loomwright.circuit.elimination import Workspace, eliminate, substitute_back
from loomwright.circuit.laws import Law
from loomwright.circuit.program import Program, Topology, compile_program
from loomwright.circuit.unsettled import NoSettledState
from loomwright.circuit.values import SHUNT_S, Values

CURRENT_TOLERANCE_A: Final = 1e-11
VOLTAGE_TOLERANCE_V: Final = 1e-9
STANDSTILL: Final = 1e-12
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
    here_v = list(start_v) if start_v is not None else _first_guess(values, len(laws))
    here = _Point(here_v, _currents(laws, here_v), None)
    voltages = [0.0] * (program.nodes + 1)
    for rounds in range(1, ROUNDS + 1):
        slopes = [law.slope_s(v) for law, v in zip(laws, here.across_v, strict=True)]
        work = _with_tangents(program, linear, here, slopes)
        eliminate(program.core, work)
        substitute_back(program.core, work, voltages)
        there_v = [voltages[a] - voltages[b] for a, b in _load_ends(topology, program)]
        on_tangent_a = [
            i + g * (w - v)
            for i, g, v, w in zip(here.by_law_a, slopes, here.across_v, there_v, strict=True)
        ]
        there = _Point(there_v, _currents(laws, there_v), on_tangent_a)
        if _agree(there, slopes) or _stand_still(here, there):
            substitute_back(program.linear, work, voltages)
            return Balance(tuple(voltages), tuple(there_v), rounds)
        here = _toward(laws, here, there)
    raise NoSettledState(f"no balance of currents was found in {ROUNDS} rounds")


@dataclass(frozen=True, slots=True)
class _Point:
    """Per load: the voltage across it, its current by its law, the current the network carries.

    The last is unknown at the start: the voltages there are a guess, not an answer of the
    network.
    """

    across_v: list[float]
    by_law_a: list[float]
    carried_a: list[float] | None


def _currents(laws: Sequence[Law], across_v: Sequence[float]) -> list[float]:
    return [law.current_a(v) for law, v in zip(laws, across_v, strict=True)]


def _load_ends(topology: Topology, program: Program) -> list[tuple[int, int]]:
    return [topology.branches[n][:2] for n in program.loads]


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
    program: Program, linear: Workspace, here: _Point, slopes: Sequence[float]
) -> Workspace:
    work = linear.copy()
    for n, v, current, g in zip(program.loads, here.across_v, here.by_law_a, slopes, strict=True):
        slot = program.branch_slots[n]
        work.conductance_s[slot] += g
        work.driven_a[slot] += program.branch_signs[n] * (g * v - current)
    return work


def _first_guess(values: Values, loads: int) -> list[float]:
    """Every load at the highest EMF: those in dead circuits fall from there."""
    return [0.9 * max((abs(emf) for emf in values.emf_v), default=0.0)] * loads


def _agree(there: _Point, slopes: Sequence[float]) -> bool:
    """Whether every law has the current its tangent carries."""
    return all(
        abs(i - j) <= min(CURRENT_TOLERANCE_A, VOLTAGE_TOLERANCE_V * g)
        for i, j, g in zip(there.by_law_a, there.carried_a or (), slopes, strict=True)
    )


def _stand_still(here: _Point, there: _Point) -> bool:
    """Whether no voltage moved by more than rounding."""
    return all(
        abs(w - v) <= STANDSTILL * (1.0 + abs(w))
        for v, w in zip(here.across_v, there.across_v, strict=True)
    )


def _toward(laws: Sequence[Law], here: _Point, there: _Point) -> _Point:
    """The far end of the step, or a point before it if the co-content rises again on the way."""
    if here.carried_a is None or there.carried_a is None:
        return there
    carried = list(zip(here.carried_a, there.carried_a, strict=True))
    across = list(zip(here.across_v, there.across_v, strict=True))

    def rise(t: float) -> float:
        return sum(
            (law.current_a(v + t * (w - v)) - i - t * (j - i)) * (w - v)
            for law, (v, w), (i, j) in zip(laws, across, carried, strict=True)
        )

    share = _share(rise)
    if share == 1.0:
        return there
    part_v = [v + share * (w - v) for v, w in across]
    return _Point(part_v, _currents(laws, part_v), [i + share * (j - i) for i, j in carried])


def _share(rise: Callable[[float], float]) -> float:
    """Share of the step to take: 1, or near where `rise`, which increases, passes 0."""
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
