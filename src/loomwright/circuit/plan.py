"""A network compiled for many cases: its rows, the numbers of its base cases, its programs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.batch import Floats, Whole
from loomwright.circuit.elements import Element
from loomwright.circuit.forms import FAMILIES, PARAMETERS, form_of, kink_v
from loomwright.circuit.layout import (
    OPEN_S,
    Layout,
    Shape,
    Signature,
    law_of,
    lay_out,
    shape_of,
    signature_of,
    write_numbers,
)
from loomwright.circuit.network import Network

STOP, THRESHOLD = PARAMETERS, PARAMETERS + 1
"""Places of the two voltages of `kink_v` behind the parameters of a family."""

Executor: TypeAlias = Literal["best", "arrays", "compiled"]

FIRST_GUESS: Final = 0.9
"""Loads start at this share of the highest EMF: those in dead circuits fall from there."""


SCALED_ABOVE_V: Final = 0.1
"""Above this a start is v1 v2 / v0, as of faults in line; below it is v1 + v2 - v0. [V]"""


@dataclass(frozen=True, slots=True)
class Laws:
    """Laws of the loads that bend.

    Attributes
    ----------
    families : tuple of (int, slice)
        Each family and the loads that have it.
    parameters : float array, shape (parameter, load, base)
        Of each family as `forms` says, then the two of `kink_v`; a single base serves all.
    """

    families: tuple[tuple[int, slice], ...]
    parameters: Floats

    def of(self, base: Whole) -> Laws:
        """Laws of the cases with these bases: one column if they share them, else one each."""
        if self.parameters.shape[2] == 1:
            return self
        if len(base) and (base == base[0]).all():
            return Laws(self.families, self.parameters[:, :, base[:1]])
        return Laws(self.families, self.parameters[:, :, base])

    def evaluate(self, across_v: Floats, factor: Floats | None) -> tuple[Floats, Floats, Floats]:
        """Current, slope and bend of every load, each of shape (load, case).

        Parameters
        ----------
        across_v : float array, shape (load, case)
            Voltages across the loads. [V]
        factor : float array, shape (load, case), optional
            Factors on the currents.
        """
        parts = [
            FAMILIES[family](across_v[loads], self.parameters[:, loads])
            for family, loads in self.families
        ]
        if not parts:
            return across_v, across_v, across_v
        if len(parts) == 1:
            current, slope, bend = parts[0]
        else:
            current, slope, bend = (np.concatenate(part) for part in zip(*parts, strict=True))
        if factor is not None:
            current, slope, bend = current * factor, slope * factor, bend * factor
        return current, slope, bend


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """A network compiled, with its base cases.

    Attributes
    ----------
    values : float array, shape (row, base)
        Numbers of every base case.
    shapes : tuple of Shape
        Programs, each with more of the extra edges than the one before.
    needs : int array, shape (row,)
        The first of them that has the edge of a row.
    elements : tuple of tuple of Element
        The elements of every base case.
    executor : {"best", "arrays", "compiled"}
        What runs the programs: NumPy's arrays, or code compiled by numba.
    threads : int
        Threads that compiled code may use.
    """

    layout: Layout
    laws: Laws
    values: Floats
    shapes: tuple[Shape, ...]
    needs: Whole
    elements: tuple[tuple[Element, ...], ...]
    executor: Executor = "best"
    threads: int = 1

    @property
    def nodes(self) -> int:
        """Count of nodes, the reference left out."""
        return len(self.layout.network.nodes)

    def node(self, name: str) -> int:
        """Number of a node."""
        return self.layout.node[name]

    def guess(self, base: NDArray[np.integer]) -> Floats:
        """Voltages to start the loads from when nothing is known, shape (load, case). [V]"""
        return np.repeat(self.first_v[base][None], len(self.layout.loads), axis=0)

    @property
    def first_v(self) -> Floats:
        """Voltage every load starts from in each base when nothing is known. [V]"""
        emf = self.values[list(self.layout.emf.values())]
        return np.asarray(FIRST_GUESS * np.abs(emf).max(axis=0, initial=0.0))


def make_plan(
    network: Network,
    bases: Sequence[tuple[Element, ...]],
    shorts: Sequence[tuple[str, str]] = (),
    crossings: Sequence[tuple[str, str]] = (),
    *,
    signature: Signature | None = None,
    executor: Executor = "best",
    threads: int = 1,
) -> Plan:
    """Compile a network for base cases.

    Parameters
    ----------
    network : Network
        The elements and how they are joined.
    bases : sequence of tuple of Element
        The elements in every base case, all with laws of the same families.
    shorts, crossings : sequence of (str, str)
        Node pairs of extra edges: across elements, which makes no mesh larger, and others.
    signature : tuple of int, optional
        The families, if they are known.
    executor, threads
        As for `Plan`.
    """
    if signature is None:
        signature = signature_of(bases[0])
    layout = lay_out(network, signature, (*shorts, *crossings))
    first = layout.extras[: len(shorts)]
    shapes = [shape_of(layout)]
    needs = np.zeros(layout.rows, dtype=np.int32)
    for more in [extras for extras in (first, layout.extras) if extras]:
        if len(more) > len(shapes[-1].linear) - len(layout.linear):
            known = {edge.row for edge in shapes[-1].linear}
            needs[[edge.row for edge in more if edge.row not in known]] = len(shapes)
            shapes.append(shape_of(layout, more))
    values, parameters = _written(layout, bases)
    laws = Laws(_runs(layout), parameters)
    return Plan(
        layout, laws, values, tuple(shapes), needs, tuple(bases), executor=executor, threads=threads
    )


def _written(layout: Layout, bases: Iterable[Sequence[Element]]) -> tuple[Floats, Floats]:
    """Numbers of every base, and parameters of its laws: of one base if all have the same."""
    place = {load.name: n for n, load in enumerate(layout.loads)}
    column, laws = [OPEN_S] * layout.rows, np.zeros((PARAMETERS + 2, len(place)))
    columns, of_bases = [], []
    before: Sequence[Element | None] = [None] * len(layout.network.elements)
    for elements in bases:
        column = column.copy()
        for element, same in zip(elements, before, strict=True):
            if element is not same:
                write_numbers(layout, element, column)
                if element.name in place:
                    laws = laws.copy()
                    laws[:, place[element.name]] = _parameters(element)
        columns.append(column)
        of_bases.append(laws)
        before = elements
    if all((laws == of_bases[0]).all() for laws in of_bases):
        of_bases = of_bases[:1]
    return np.array(columns).T, np.stack(of_bases, axis=2)


def _parameters(element: Element) -> Floats:
    """Parameters of the law of an element, and its kinks."""
    law, parameters = law_of(element), np.zeros(PARAMETERS + 2)
    if law is not None:
        _, given = form_of(law)
        parameters[: len(given)] = given
        parameters[PARAMETERS:] = kink_v(law)
    return parameters


def _runs(layout: Layout) -> tuple[tuple[int, slice], ...]:
    """Each family and the loads that have it."""
    runs: list[tuple[int, slice]] = []
    for n, load in enumerate(layout.loads):
        if runs and runs[-1][0] == load.family:
            runs[-1] = load.family, slice(runs[-1][1].start, n + 1)
        else:
            runs.append((load.family, slice(n, n + 1)))
    return tuple(runs)
