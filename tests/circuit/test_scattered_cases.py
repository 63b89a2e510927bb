"""Cases that take different programs lie between each other, and none writes over another."""

from __future__ import annotations

import numpy as np
import pytest
from tests.circuit.networks import large_rig
from tests.circuit.test_study import COMMANDS, FAULTS

from loomwright.circuit import Case, Filament, LedString
from loomwright.circuit.fast.lanes import WIDTH
from loomwright.circuit.faults import Opened, Resisted
from loomwright.circuit.study import Study

NODE_V = 1e-8


@pytest.mark.parametrize("executor", ["arrays", "compiled"])
def test_a_study_runs_what_it_was_asked_to(executor: str) -> None:
    study = Study(large_rig(3), executor="compiled" if executor == "compiled" else "arrays")
    assert study.plan.executor == executor


def test_every_mix_of_programs_gives_the_answer_of_each_case_alone() -> None:
    """A block that is not full repeats its last case: 2, 3, 17, 17 ... spans as much as 2 to 17."""
    arrays, compiled = (
        Study(large_rig(12), COMMANDS, FAULTS, executor=each) for each in ("arrays", "compiled")
    )
    expected = arrays.solve(arrays.single_faults(), "nodes").voltages_v
    cases = compiled.single_faults()
    rng = np.random.default_rng(4)
    for _ in range(200):
        which = rng.permutation(len(cases))[: rng.integers(2, 2 * WIDTH)]
        found = compiled.solve(cases.take(which), "nodes").voltages_v
        assert np.abs(found - expected[which]).max() <= NODE_V


def test_bases_of_other_laws_lie_side_by_side_or_apart() -> None:
    """Bases in order, to the last or not, mixed, and one alone: a block at a time is solved."""
    network, count = large_rig(6), WIDTH + 5
    bases = [
        Case(
            emf_v={"battery": 11.0 + 0.15 * n},
            closed={"switch0": n % 2 == 0},
            law={
                "load0": Filament(12.8, 2.0 + 0.5 * n),
                "load3": LedString(7.0, 15.0 + 0.5 * n, 0.2),
            },
        )
        for n in range(count)
    ]
    faults = (Opened("ground"), Resisted("feed3", 0.5))
    arrays, compiled = (
        Study(network, bases, faults, executor=each) for each in ("arrays", "compiled")
    )
    for cases in (compiled.fault_free(), compiled.single_faults()):
        expected = arrays.solve(cases, "nodes").voltages_v
        rng = np.random.default_rng(2)
        every = np.arange(len(cases))
        for which in (every, every[3:9], rng.permutation(len(cases)), every[count - 1 : count]):
            found = compiled.solve(cases.take(which), "nodes", from_known=False).voltages_v
            assert np.abs(found - expected[which]).max() <= NODE_V
