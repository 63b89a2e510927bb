"""What holds in every network, whatever it is made of."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.circuit.exact import exact_voltages
from tests.circuit.networks import large_rig, networks, resistances_ohm

from loomwright.circuit import (
    Case,
    Element,
    Load,
    Network,
    Ohmic,
    Resistor,
    Solution,
    Source,
    Switch,
    Transformed,
    solve,
    solve_many,
)
from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Resisted
from loomwright.circuit.study import Study

NODE_V = 1e-8
"""How far two answers to one network may differ at any node."""


def furthest_v(one: Solution, other: Solution) -> float:
    """Largest difference at any node."""
    return max(abs(v - other.voltages_v[node]) for node, v in one.voltages_v.items())


@given(networks())
def test_currents_into_every_node_sum_to_zero(network: Network) -> None:
    """Kirchhoff's first law, summed here from the currents the solution shows."""
    solution = solve(network)
    sums = {node: 1e-9 * solution.voltages_v[node] for node in network.nodes}
    for element in network.elements:
        ((a, b),) = ends(element)
        sign = -1 if isinstance(element, Source) else 1
        for node, side in ((a, sign), (b, -sign)):
            if node in sums:
                sums[node] += side * solution.currents_a[element.name]

    assert max(map(abs, sums.values()), default=0.0) <= 1e-9
    assert solution.kirchhoff_residual_a <= 1e-9


@given(networks())
def test_sources_give_what_the_rest_takes(network: Network) -> None:
    """Conservation of energy: EMF times current, against heat in everything and the shunts."""
    solution = solve(network)
    given_w = taken_w = 0.0
    for element in network.elements:
        current = solution.currents_a[element.name]
        if isinstance(element, Source):
            given_w += element.emf_v * current
            taken_w += element.resistance_ohm * current**2
        else:
            taken_w += solution.across_v(element.name) * current
    taken_w += sum(1e-9 * v**2 for v in solution.voltages_v.values())

    assert given_w == pytest.approx(taken_w, rel=1e-9, abs=1e-8)
    assert abs(solution.power_residual_w) <= 1e-8 + 1e-9 * taken_w


@given(networks())
def test_every_node_agrees_with_exact_arithmetic(network: Network) -> None:
    """Floating nodes too: a dense matrix in 60 digits is the arbiter."""
    solution = solve(network)
    exact = exact_voltages(network, solution)

    assert max((abs(exact[n] - solution.voltages_v[n]) for n in exact), default=0) <= NODE_V


def test_a_large_rig_agrees_with_exact_arithmetic() -> None:
    """160 nodes, 40 loads, whole and with the shared ground lost."""
    whole = large_rig()
    lost = Network(
        replace(e, resistance_ohm=1e17) if isinstance(e, Resistor) and e.name == "ground" else e
        for e in whole.elements
    )
    for network in (whole, lost):
        solution = solve(network)
        exact = exact_voltages(network, solution)
        assert max(abs(exact[n] - solution.voltages_v[n]) for n in exact) <= NODE_V


@given(networks(), st.randoms(use_true_random=False))
def test_the_order_of_the_elements_does_not_matter(network: Network, chance: random.Random) -> None:
    shuffled = list(network.elements)
    chance.shuffle(shuffled)

    assert furthest_v(solve(network), solve(Network(shuffled))) <= NODE_V


@given(networks(), st.randoms(use_true_random=False))
def test_the_names_of_the_nodes_do_not_matter(network: Network, chance: random.Random) -> None:
    names = list(network.nodes)
    chance.shuffle(names)
    new = dict(zip(network.nodes, names, strict=True)) | {"0": "0"}
    renamed = solve(Network(_with_nodes(element, new) for element in network.elements))
    original = solve(network)

    assert (
        max(abs(v - renamed.voltages_v[new[node]]) for node, v in original.voltages_v.items())
        <= NODE_V
    )


def test_many_cases_are_solved_as_each_alone() -> None:
    """Each starts from the one before, and comes to the same answer."""
    network = large_rig()
    cases = [
        Case(resistance_ohm={"ground": ohm}, closed={"switch0": ohm > 1.0, "bridge5": ohm < 0.1})
        for ohm in (0.01, 0.5, 5.0, 1e17)
    ]

    for case, solution in zip(cases, solve_many(network, cases), strict=True):
        assert furthest_v(solution, solve(network, case)) <= NODE_V


@given(networks(laws=(Ohmic(3.2), Ohmic(0.5))), st.data())
def test_linear_networks_are_reciprocal(network: Network, data: st.DataObject) -> None:
    """1 V in branch i drives through branch j what 1 V in j drives through i (textbook)."""
    pair = st.lists(st.sampled_from(["0", *network.nodes]), min_size=2, max_size=2, unique=True)
    passive = [replace(e, emf_v=0.0) if isinstance(e, Source) else e for e in network.elements]
    (a, b), (c, d) = data.draw(pair), data.draw(pair)

    def driven(first_v: float, second_v: float) -> Solution:
        added = [Source("i", a, b, first_v, 0.1), Source("j", c, d, second_v, 0.1)]
        return solve(Network([*passive, *added]))

    there = driven(1.0, 0.0).currents_a["j"]
    back = driven(0.0, 1.0).currents_a["i"]
    assert there == pytest.approx(back, rel=1e-9, abs=1e-9)


@given(networks())
@settings(max_examples=30)
def test_a_fault_of_no_resistance_changes_nothing(network: Network) -> None:
    """Added to any conductor, on trees, meshes and islands; floating nodes too."""
    conductors = [e.name for e in network.elements if isinstance(e, Resistor)]
    study = Study(network, faults=[Resisted(name, 1e-18) for name in conductors])
    whole = study.solve(study.fault_free(), "nodes").voltages_v
    faulty = study.solve(study.single_faults(), "nodes").voltages_v

    assert np.abs(faulty - whole).max(initial=0.0) <= NODE_V


@given(networks(), st.data())
def test_a_short_of_no_resistance_is_the_limit_of_small_ones(
    network: Network, data: st.DataObject
) -> None:
    """A bridge of 1 microohm acts as if its two nodes were one."""
    nodes = st.sampled_from(["0", *network.nodes])
    keep = data.draw(nodes)
    lost = data.draw(nodes.filter(lambda node: node not in {keep, "0"}))
    bridged = solve(Network([*network.elements, Switch("bridge", keep, lost, 1e-6, closed=True)]))
    one = {node: node for node in ("0", *network.nodes)} | {lost: keep}
    left = [e for e in network.elements if len({one[n] for n in ends(e)[0]}) == 2]
    anchor = Resistor("anchor", "0", "far", 1.0)
    merged = solve(Network([*(_with_nodes(e, one) for e in left), anchor]))

    drop_v = abs(bridged.across_v("bridge")) + 1e-6
    for node in network.nodes:
        if one[node] in merged.voltages_v and one[node] not in merged.floating:
            away = abs(bridged.voltages_v[node] - merged.voltages_v[one[node]])
            assert away <= 100.0 * drop_v


@given(
    st.lists(resistances_ohm, min_size=4, max_size=12),
    st.lists(st.integers(0, 30), min_size=12, max_size=12),
    st.data(),
)
def test_more_resistance_never_gives_a_load_of_a_tree_more_voltage(
    wires_ohm: list[float], parents: list[int], data: st.DataObject
) -> None:
    """On a tree of wires every load hangs behind a chain of them; raise one of the chain."""
    raised = data.draw(st.integers(0, len(wires_ohm) - 1))

    def voltages(factor: float) -> list[float]:
        elements: list[Element] = [Source("battery", "n0", "0", 12.8, 0.01)]
        for n, ohm in enumerate(wires_ohm):
            size = ohm * (factor if n == raised else 1.0)
            elements.append(Resistor(f"w{n}", f"n{parents[n] % (n + 1)}", f"n{n + 1}", size))
            elements.append(Load(f"l{n}", f"n{n + 1}", "0", Ohmic(3.0)))
        solution = solve(Network(elements))
        return [solution.across_v(f"l{n}") for n in range(len(wires_ohm))]

    behind = {raised + 1}
    for n in range(len(wires_ohm)):
        if parents[n] % (n + 1) in behind:
            behind.add(n + 1)
    before, after = voltages(1.0), voltages(3.0)
    assert all(after[node - 1] <= before[node - 1] + NODE_V for node in behind)


def _with_nodes(element: Element, new: dict[str, str]) -> Element:
    if isinstance(element, Source):
        return replace(element, plus=new[element.plus], minus=new[element.minus])
    assert not isinstance(element, Transformed)
    return replace(element, a=new[element.a], b=new[element.b])
