"""The tables of identification: sources, shares that sum to one, nothing left out."""

import pytest
from tests.identify.bundles import FUNCTIONS, GROUND_TESTS, MODES, SIGHTS, table

from loomwright.identify.behaviour import State
from loomwright.identify.seen import Tester as With
from loomwright.reference.functions import function_keys
from loomwright.reference.sources import cited, sources

NAMES = ("identified_functions", "behaviours", "sights", "ground_tests")


@pytest.mark.parametrize("name", NAMES)
def test_each_row_names_its_source_and_standing(name: str) -> None:
    known = {row.key for row in sources()}
    for row in table(name):
        assert {key for key, _ in cited(row["source"])} <= known, row
        assert row["standing"] == "common practice", row


def test_shares_sum_to_one() -> None:
    for function, modes in MODES.items():
        assert sum(float(row["share"]) for row in modes) == pytest.approx(1.0), function
    for key, shares in SIGHTS.items():
        assert sum(shares) == pytest.approx(1.0), key
    for row in GROUND_TESTS:
        assert sum(float(row[each]) for each in ("low", "middle", "high")) == pytest.approx(1.0)


def test_every_state_and_tester_has_a_row_and_every_function_behaves() -> None:
    assert set(SIGHTS) == {(s, t) for s in State for t in With}
    assert set(MODES) == set(FUNCTIONS)
    assert set(FUNCTIONS) - {"leave_alone"} <= set(function_keys())


def test_combined_signals_as_the_trade_proves_them() -> None:
    """Steady with the brake pedal, flashing with its side: on one wire (common practice)."""
    for side in ("left", "right"):
        for row in MODES[f"{side}_stop_turn"]:
            assert side in row["flashing"].split(";")
            assert "hazard" in row["flashing"].split(";")
            assert "brake_pedal" in row["under"].split(";")
