"""Runs an elimination program on numbers: star to mesh, and back.

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

The same lines serve one case and many: a row is a float, or an array with a number for each
case. Floats are several times quicker than arrays of one.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias

from loomwright.circuit.program import Program, Step

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Row: TypeAlias = "float | NDArray[np.float64]"
"""A number for one case, or one for each case of a batch."""


class Meshes:
    """Rows of one run.

    Parameters
    ----------
    program : Program
        What is run.
    conductance_s, driven_a : list of Row
        g and c of every edge; c of an edge that is never driven is not looked at.

    Attributes
    ----------
    shares : list of list of Row
        m of each node eliminated so far, to its neighbours.
    base_v : list of Row
        Voltage of each if all its neighbours stood at 0 V.
    """

    __slots__ = ("base_v", "conductance_s", "driven_a", "shares")

    def __init__(self, program: Program, conductance_s: list[Row], driven_a: list[Row]) -> None:
        self.conductance_s = conductance_s
        self.driven_a = driven_a
        self.shares: list[list[Row]] = [[]] * program.nodes
        self.base_v: list[Row] = [0.0] * program.nodes


def eliminate(steps: Sequence[Step], meshes: Meshes) -> None:
    """Turn the star of each step into its mesh; arrays are added to in place."""
    g, c = meshes.conductance_s, meshes.driven_a
    for node, slots, _, pairs, forward, backward, driven in steps:
        star = [g[slot] for slot in slots]
        of_one = 1.0 / sum(star[1:], start=star[0])
        shares = [conductance * of_one for conductance in (star if driven else star[:-1])]
        meshes.shares[node] = shares
        for target, i, j in pairs:
            g[target] += shares[i] * star[j]
        if driven:
            drive = [c[slot] for slot in slots]
            meshes.base_v[node] = of_one * sum((drive[i] for i in driven[1:]), drive[driven[0]])
            for target, i, j in forward:
                c[target] += shares[i] * drive[j]
            for target, i, j in backward:
                c[target] -= shares[i] * drive[j]


def substitute_back(steps: Sequence[Step], meshes: Meshes, voltages_v: list[Row]) -> None:
    """Fill in the voltage of each node, the last eliminated first."""
    for step in reversed(steps):
        voltage = meshes.base_v[step.node]
        for share, far in zip(meshes.shares[step.node], step.neighbours, strict=False):
            voltage = voltage + share * voltages_v[far]
        voltages_v[step.node] = voltage


def ties_to_reference(steps: Sequence[Step], tied: list[int], program: Program) -> list[int]:
    """Which nodes reach the reference over tied edges: the program run on yes and no.

    Parameters
    ----------
    steps : sequence of Step
        All steps of the program, linear and core.
    tied : list of int
        For each edge a bit set for each case in which it ties its ends; changed on the way.
    program : Program
        What is run.

    Returns
    -------
    list of int
        For each node a bit for each case in which it is tied to the reference.
    """
    stars = {}
    for step in steps:
        star = [tied[slot] for slot in step.slots]
        stars[step.node] = star
        for target, i, j in step.meshes:
            tied[target] |= star[i] & star[j]
    held = [0] * program.nodes
    for step in reversed(steps):
        *nears, reached = stars[step.node]
        for near, far in zip(nears, step.neighbours, strict=True):
            reached |= near & held[far]
        held[step.node] = reached
    return held
