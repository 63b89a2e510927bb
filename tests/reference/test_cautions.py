"""What can hurt."""

from __future__ import annotations

import pytest

from loomwright.invalid import InvalidInput
from loomwright.reference.cautions import cautions


def test_there_are_as_many_cautions_as_were_gathered() -> None:
    """Thirty-two cautions were gathered."""
    assert len(cautions()) == 32
    assert sum(len(cautions(stage)) for stage in ("before", "during", "after")) == 32


def test_hydrogen_burns_from_four_percent() -> None:
    """Source: OSHA letter of 26 January 1976, 29 CFR 1910.178(g)(2)."""
    (hydrogen,) = (c for c in cautions("during", "battery") if c.key == "hydrogen")

    assert "4 percent" in hydrogen.says
    assert hydrogen.source.startswith("osha-1976-01-26")


def test_drilling_brings_its_own_cautions_and_those_for_any_work() -> None:
    """Source: common practice."""
    keys = {caution.key for caution in cautions(task="drilling")}

    assert {"drill", "eyes", "chock"} <= keys
    assert "weld" not in keys


def test_an_unknown_stage_or_task_names_the_known() -> None:
    with pytest.raises(InvalidInput, match="before, during, after"):
        cautions("xyzzy")
    with pytest.raises(InvalidInput, match="drilling"):
        cautions(task="driling")
