"""One base with other numbers in every case: samples, sizes, temperatures, supplies."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from loomwright.circuit.batch import Cases, Floats, base_cases
from loomwright.circuit.elements import Load
from loomwright.circuit.layout import OPEN_S
from loomwright.circuit.plan import Plan
from loomwright.invalid import InvalidInput


def cases_given(plan: Plan, base: int, numbers: Mapping[str, Mapping[str, ArrayLike]]) -> Cases:
    """Return cases of one base whose elements have the numbers given.

    Parameters
    ----------
    plan : Plan
        The network compiled.
    base : int
        Number of the base.
    numbers : mapping
        Of each quantity, by element, the number in every case: `resistance_ohm` [ohm],
        `resistance_factor` or `current_factor` on that of the base, `emf_v` [V].

    Raises
    ------
    InvalidInput
        If a name or a number is not fit for its quantity, or the arrays differ in length.
    """
    given: dict[int, Floats] = {}
    for quantity, by_name in numbers.items():
        for name, wanted in by_name.items():
            row, in_row = _row(plan, base, quantity, name, np.atleast_1d(wanted))
            given[row] = in_row
    sizes = {len(in_row) for in_row in given.values()}
    if len(sizes) > 1:
        raise InvalidInput("variants", sorted(sizes), "give arrays of one length")
    count = sizes.pop() if sizes else 1
    return replace(
        base_cases(np.full(count, base)),
        given_rows=np.array(list(given), dtype=np.int32),
        given=np.array(list(given.values()), dtype=float).reshape(len(given), count),
    )


def _row(plan: Plan, base: int, quantity: str, name: str, numbers: Floats) -> tuple[int, Floats]:
    """Row of an element's number, and what stands there in every case."""
    layout = plan.layout
    element = layout.network.element(name)
    if not (numbers > 0.0).all() and quantity != "emf_v":
        raise InvalidInput(f"{quantity}[{name}]", numbers.min(), "give numbers above 0")
    if quantity == "emf_v" and name in layout.emf:
        return layout.emf[name], numbers
    if quantity == "current_factor" and isinstance(element, Load):
        if name in layout.factor:
            return layout.factor[name], numbers
        row = layout.conductance[name]
        return row, plan.values[row, base] * numbers
    if quantity in ("emf_v", "current_factor") or name not in layout.conductance:
        raise InvalidInput(quantity, name, "name an element that has this quantity")
    row = layout.conductance[name]
    if quantity == "resistance_ohm":
        return row, np.maximum(1.0 / numbers, OPEN_S)
    return row, plan.values[row, base] / numbers
