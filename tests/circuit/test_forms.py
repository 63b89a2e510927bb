"""The laws on arrays say what the laws say."""

from __future__ import annotations

import numpy as np
import pytest
from tests.circuit.networks import LAWS

from loomwright.circuit import Filament, Law, LedCurrent, LedString
from loomwright.circuit.converter import ConverterOutput
from loomwright.circuit.forms import FAMILIES, OHMIC, REACH_V, form_of

ALL_LAWS: tuple[Law, ...] = (
    *LAWS,
    ConverterOutput(13.8, 0.02, 15.0),
    Filament(12.8, 2.1, k=9.0),
    Filament(24.0, 1.75, k=15.0),
    LedString(2.0, 5.0, 0.02),
    LedCurrent(7.0, 5.6, 0.25, 0.1, 20.0),
)

VOLTS = np.unique(
    np.concatenate(
        [
            np.linspace(-30.0, 30.0, 2001),
            np.linspace(6.0, 9.0, 1501),
            np.geomspace(1e-6, 60.0, 300),
            -np.geomspace(1e-6, 60.0, 300),
        ]
    )
)


def of_arrays(law: Law, volts: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    family, parameters = form_of(law)
    if family == OHMIC:
        slope = np.full_like(volts, parameters[0])
        return parameters[0] * volts, slope, np.zeros_like(volts)
    return FAMILIES[family](volts, np.array(parameters)[:, None])


@pytest.mark.parametrize("law", ALL_LAWS, ids=lambda law: type(law).__name__)
def test_current_and_slope_are_those_of_the_law(law: Law) -> None:
    current, slope, _ = of_arrays(law, VOLTS)

    assert current == pytest.approx([law.current_a(v) for v in VOLTS], rel=1e-12, abs=1e-13)
    assert slope == pytest.approx([law.slope_s(v) for v in VOLTS], rel=1e-11, abs=1e-15)


@pytest.mark.parametrize("law", ALL_LAWS, ids=lambda law: type(law).__name__)
def test_a_tangent_is_off_by_no_more_than_the_bend_says(law: Law) -> None:
    """Taylor: the law less its tangent is bend x step^2 at most, over the whole reach."""
    current, slope, bend = of_arrays(law, VOLTS)
    for step in (-1.0, -0.5, -0.1, 0.1, 0.5, 1.0):
        move = step * REACH_V
        exact = np.array([law.current_a(v + move) for v in VOLTS])
        rounding = 4e-16 * (np.abs(exact) + np.abs(slope * VOLTS)) + 1e-16
        assert (np.abs(exact - current - slope * move) <= 1.001 * bend * move**2 + rounding).all()


@pytest.mark.parametrize("law", ALL_LAWS, ids=lambda law: type(law).__name__)
def test_far_outside_of_the_range_the_forms_stay_finite(law: Law) -> None:
    for part in of_arrays(law, np.array([-1e7, -1e3, 0.0, 1e3, 1e7])):
        assert np.isfinite(part).all()
