"""Cases that take different programs lie between each other, and none writes over another."""

from __future__ import annotations

import numpy as np
import pytest
from tests.circuit.networks import large_rig
from tests.circuit.test_study import COMMANDS, FAULTS

from loomwright.circuit.study import Study

NODE_V = 1e-8


@pytest.mark.parametrize("executor", ["arrays", "compiled"])
def test_a_study_runs_what_it_was_asked_to(executor: str) -> None:
    study = Study(large_rig(3), executor="compiled" if executor == "compiled" else "arrays")
    assert study.plan.executor == executor


def test_every_mix_of_programs_gives_the_answer_of_each_case_alone() -> None:
    """A block that is not full repeats its last case: 2, 3, 4, 9, 9 ... spans as much as 2 to 9."""
    arrays, compiled = (
        Study(large_rig(12), COMMANDS, FAULTS, executor=each) for each in ("arrays", "compiled")
    )
    expected = arrays.solve(arrays.single_faults(), "nodes").voltages_v
    cases = compiled.single_faults()
    rng = np.random.default_rng(4)
    for _ in range(200):
        which = rng.permutation(len(cases))[: rng.integers(2, 16)]
        found = compiled.solve(cases.take(which), "nodes").voltages_v
        assert np.abs(found - expected[which]).max() <= NODE_V
