"""One answer, whatever the start and whichever way it is found."""

from __future__ import annotations

import random

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from tests.circuit.networks import large_rig, networks

from loomwright.circuit import Network
from loomwright.circuit.answers import Asked, Limits, Swept
from loomwright.circuit.batch import base_cases
from loomwright.circuit.careful import find_balance_carefully
from loomwright.circuit.plan import Executor, Plan, make_plan
from loomwright.circuit.room import Room
from loomwright.circuit.sweep import CAREFUL_ROUNDS, sweep

NODE_V = 1e-8
STARTS = 9
NO_LIMITS = Limits(np.empty(0, dtype=np.int64), np.empty(0), np.empty(0))


def plan_of(network: Network, executor: Executor) -> Plan:
    return make_plan(network, (network.elements,), executor=executor)


def from_starts(plan: Plan, start_v: np.ndarray) -> Swept:
    """Solve the one case from each column of voltages across the loads."""
    count = start_v.shape[1]
    near = np.repeat(np.arange(count)[:, None], 3, axis=1)
    nodes = np.array([(node, plan.nodes) for node in range(plan.nodes)]).reshape(-1, 2)
    asked = Asked(nodes, nodes[:0], NO_LIMITS)
    found = Swept.room(count, plan.nodes).part(0, count, 0, len(plan.layout.loads), Room())
    cases = base_cases(np.zeros(count, dtype=int), near)
    sweep(plan, cases, asked, found, known_v=np.ascontiguousarray(start_v.T))
    return found


@given(networks(), st.randoms(use_true_random=False))
def test_from_any_start(network: Network, chance: random.Random) -> None:
    for executor in ("arrays", "compiled"):
        plan = plan_of(network, "arrays" if executor == "arrays" else "compiled")
        loads = range(len(plan.layout.loads))
        start_v = [[chance.uniform(-30.0, 30.0) for _ in range(STARTS)] for _ in loads]
        found = from_starts(plan, np.array(start_v).reshape(len(loads), STARTS))

        assert found.settled.all()
        assert np.ptp(found.voltages_v, axis=1).max(initial=0.0) <= NODE_V


@given(networks(), st.randoms(use_true_random=False))
def test_the_careful_way_comes_to_the_same(network: Network, chance: random.Random) -> None:
    plan = plan_of(network, "arrays")
    loads = len(plan.layout.loads)
    start_v = np.array([[chance.uniform(-30.0, 30.0)] for _ in range(loads)]).reshape(loads, 1)
    careful = find_balance_carefully(
        plan.shapes[0], plan.laws, plan.values, start_v, CAREFUL_ROUNDS
    )
    found = from_starts(plan, start_v)

    assert careful.settled.all()
    by_node = np.array([float(v) for v in careful.voltages_v[:-1]])
    assert np.abs(by_node - found.voltages_v[:, 0]).max(initial=0.0) <= NODE_V


def test_a_large_rig_settles_in_few_rounds_from_anywhere() -> None:
    """160 nodes and 40 loads from -13 V to 13 V: the careful way is not called for."""
    plan = plan_of(large_rig(), "arrays")
    start_v = np.random.default_rng(1).uniform(-13.0, 13.0, (len(plan.layout.loads), 500))
    found = from_starts(plan, start_v)

    assert found.settled.all()
    assert found.rounds.max() <= 24
    assert np.ptp(found.voltages_v, axis=1).max() <= NODE_V
