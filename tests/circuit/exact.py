"""An arbiter: nodal analysis with a dense matrix in decimal numbers of 60 digits.

It shares nothing with the solver but the laws of the loads: a matrix is stamped from the
elements and solved by Gauss elimination with pivoting. From the voltages the solver found, one
exact Newton step is taken; its length is the error of the solver.
"""

from __future__ import annotations

from decimal import Decimal, localcontext

from loomwright.circuit import (
    ConstantPower,
    Driver,
    Fuse,
    Load,
    Network,
    Resistor,
    Solution,
    Source,
    Switch,
    Transformed,
)

Branch = tuple[str, str, Decimal, Decimal]
"""Ends, conductance and driven current from the first to the second."""

DIGITS = 60
SHUNT_S = Decimal("1e-9")
OPEN_S = Decimal("1e-17")


def exact_voltages(network: Network, near: Solution) -> dict[str, float]:
    """Voltages after one exact Newton step from those of `near`."""
    with localcontext() as context:
        context.prec = DIGITS
        solved = _gauss(*_stamped(network, near))
        return dict(zip(network.nodes, map(float, solved), strict=True))


def _stamped(network: Network, near: Solution) -> tuple[list[list[Decimal]], list[Decimal]]:
    number = {node: n for n, node in enumerate(network.nodes)}
    size = len(number)
    matrix = [[Decimal(0)] * size for _ in range(size)]
    right = [Decimal(0)] * size
    for n in range(size):
        matrix[n][n] += SHUNT_S
    for element in network.elements:
        for a, b, conductance, driven in _branches(element, near):
            ends = [(number[node], sign) for node, sign in ((a, 1), (b, -1)) if node in number]
            for row, sign in ends:
                right[row] -= sign * driven
                for column, other in ends:
                    matrix[row][column] += sign * other * conductance
    return matrix, right


def _branches(element: object, near: Solution) -> list[Branch]:
    """Branches of an element in the state it settled in.

    Constant power is the current it draws, the output of a converter the EMF it settled at.
    """
    match element:
        case Fuse(name=name) | Driver(name=name) if name in near.opened:
            return [(element.a, element.b, OPEN_S, Decimal(0))]
        case ConstantPower(name=name):
            if name in near.off:
                return [(element.a, element.b, 1 / Decimal(element.off_resistance_ohm), Decimal(0))]
            return [(element.a, element.b, Decimal(0), Decimal(near.currents_a[name]))]
        case Transformed(name=name):
            plus, minus, into, out = element.out_plus, element.out_minus, element.in_a, element.in_b
            if name in near.off:
                off_s = 1 / Decimal(element.off_resistance_ohm)
                return [(into, out, off_s, Decimal(0)), (plus, minus, off_s, Decimal(0))]
            ohm, given = Decimal(element.resistance_ohm), Decimal(near.outputs_a[name])
            output_v = Decimal(near.voltages_v[plus]) - Decimal(near.voltages_v[minus])
            drawn = Decimal(near.currents_a[name])
            return [
                (into, out, Decimal(0), drawn),
                (plus, minus, 1 / ohm, -(output_v + ohm * given) / ohm),
            ]
        case _:
            return [_norton(element, near)]


def _norton(element: object, near: Solution) -> Branch:
    """Branch of an element that has no states, or has its state in it."""
    match element:
        case Source():
            conductance = 1 / Decimal(element.resistance_ohm)
            return element.plus, element.minus, conductance, -conductance * Decimal(element.emf_v)
        case Load():
            across = near.across_v(element.name)
            conductance = Decimal(element.law.slope_s(across))
            driven = Decimal(element.law.current_a(across)) - conductance * Decimal(across)
            return element.a, element.b, conductance, driven
        case Switch(closed=False) | Driver(closed=False) | Fuse(open=True):
            return element.a, element.b, OPEN_S, Decimal(0)
        case Switch() | Driver() | Fuse() | Resistor():
            return element.a, element.b, 1 / Decimal(element.resistance_ohm), Decimal(0)
    raise AssertionError(element)


def _gauss(matrix: list[list[Decimal]], right: list[Decimal]) -> list[Decimal]:
    size = len(right)
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    for k in range(size):
        pivot = max(range(k, size), key=lambda r: abs(rows[r][k]))
        rows[k], rows[pivot] = rows[pivot], rows[k]
        for row in rows[k + 1 :]:
            if row[k]:
                factor = row[k] / rows[k][k]
                row[k:] = [x - factor * y for x, y in zip(row[k:], rows[k][k:], strict=True)]
    solved = [Decimal(0)] * size
    for k in reversed(range(size)):
        known = sum((rows[k][j] * solved[j] for j in range(k + 1, size)), Decimal(0))
        solved[k] = (rows[k][size] - known) / rows[k][k]
    return solved
