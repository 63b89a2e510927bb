"""Runs an elimination program on one set of numbers: star to mesh, and back.

Every edge carries a conductance g and a driven current c, both as a source seen from its
ends: the current into the end that goes first is c + g (V_far - V_near). Eliminating a node
k with edges to i, j ... (the reference among them, at 0 V)::

    s = sum of g_i          m_i = g_i / s
    V_k = sum of c_i / s + sum of m_i V_i          (used on the way back)
    g_ij += m_i g_j         c_ij += m_i c_j - m_j c_i

No conductance is ever subtracted, and the sum s is never stored in a matrix: a shunt of
1e-9 S beside a wire of 1000 S keeps every digit. And no current is ever driven into a node
from nowhere: c / g of an edge is a voltage of the order of the sources, so a part that hangs
on its shunts alone is as exact as the rest, even with a battery in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from loomwright.circuit.program import Program, Step


@dataclass(slots=True)
class Workspace:
    """Numbers of one run: per edge g [S] and c [A], per node shares m and base voltage."""

    conductance_s: list[float]
    driven_a: list[float]
    shares: list[Sequence[float]] = field(default_factory=list)
    base_v: list[float] = field(default_factory=list)

    @classmethod
    def of(cls, program: Program) -> Workspace:
        """Empty edges for a program."""
        return cls(
            [0.0] * program.slots,
            [0.0] * program.slots,
            [()] * program.nodes,
            [0.0] * program.nodes,
        )

    def copy(self) -> Workspace:
        """Take a second workspace with the same numbers."""
        return Workspace(self.conductance_s[:], self.driven_a[:], self.shares[:], self.base_v[:])


def eliminate(steps: Sequence[Step], work: Workspace) -> None:
    """Turn the star of each step into its mesh."""
    g, c = work.conductance_s, work.driven_a
    for node, slots, _, targets in steps:
        star_g = [g[slot] for slot in slots]
        star_c = [c[slot] for slot in slots]
        total = sum(star_g)
        shares = [conductance / total for conductance in star_g]
        work.shares[node] = shares
        work.base_v[node] = sum(star_c) / total
        target = iter(targets)
        for i in range(len(slots) - 1):
            share_i, driven_i = shares[i], star_c[i]
            for j in range(i + 1, len(slots)):
                slot = next(target)
                g[slot] += share_i * star_g[j]
                c[slot] += share_i * star_c[j] - shares[j] * driven_i


def substitute_back(steps: Sequence[Step], work: Workspace, voltages_v: list[float]) -> None:
    """Fill in the voltage of each node, the last eliminated first."""
    for node, _, neighbours, _ in reversed(steps):
        voltage = work.base_v[node]
        for share, far in zip(work.shares[node], neighbours, strict=False):
            voltage += share * voltages_v[far]
        voltages_v[node] = voltage
