"""The measuring of the workbench runs, untimed: every address it asks for answers."""

from datetime import date
from pathlib import Path

import pytest
from benchmarks.workbench import kinds, measured, page


@pytest.mark.slow
def test_every_request_that_is_measured_is_answered(tmp_path: Path) -> None:
    took = measured(3, tmp_path)
    text = page(took, date(2026, 1, 1), 3)

    assert len(took) == len(kinds(3))
    assert all(len(each.cpu_ms) == 2 for each in took)
    assert all(f"| {each.asked.what} |" in text for each in took)


def test_each_request_is_another_change() -> None:
    for kind in kinds(41):
        if kind.has_target:
            assert len(set(kind.addresses)) == 41
