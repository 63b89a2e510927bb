"""Studies: cases by the array are the cases one by one."""

from __future__ import annotations

import math
import tracemalloc

import numpy as np
import pytest
from tests.circuit.networks import large_rig

from loomwright.circuit import (
    Cancelled,
    Case,
    Filament,
    Fuse,
    Load,
    Network,
    Resistor,
    Source,
    solve,
)
from loomwright.circuit.faults import Bridged, Fault, Opened, Resisted, Shorted, Swapped
from loomwright.circuit.plan import Executor
from loomwright.circuit.readings import Readings
from loomwright.circuit.study import Study
from loomwright.invalid import InvalidInput

NODE_V = 1e-8

LEAK_V = 2e-7
"""What an open branch, 1e-17 S, brings onto a node that hangs on its shunt of 1e-9 S."""

FAULTS: tuple[Fault, ...] = (
    Opened("ground"),
    Opened("return4"),
    Opened("load7"),
    Resisted("feed3", 0.5),
    Resisted("ground", 2.0),
    Shorted("load5"),
    Shorted("feed8", 0.01),
    Bridged("lamp3", "lamp9", 0.02),
    Bridged("lamp3", "0", 0.5),
    Swapped("feed1", "feed2"),
)
COMMANDS = (Case(), Case(closed={"switch0": True, "switch1": False}), Case(emf_v={"battery": 14.2}))


def furthest_v(readings: Readings, row: int, network: Network, case: Case = COMMANDS[0]) -> float:
    """Largest difference at a node between a row of a study and the case alone."""
    alone = solve(network, case)
    assert readings.settled[row]
    loose = {n for n, floats in zip(readings.wanted, readings.floating[row], strict=True) if floats}
    assert loose == alone.floating
    return max(
        abs(alone.voltages_v[str(node)] - volts)
        for node, volts in zip(readings.wanted, readings.voltages_v[row], strict=True)
    )


def with_fault(network: Network, fault: Fault) -> Network:
    """The network with the fault built in, as one would wire it."""
    elements = {element.name: element for element in network.elements}

    def resistor(name: str) -> Resistor:
        element = elements[name]
        assert isinstance(element, Resistor)
        return element

    match fault:
        case Opened(element=name):
            del elements[name]
        case Resisted(element=name, added_ohm=more):
            old = resistor(name)
            elements[name] = Resistor(name, old.a, old.b, old.resistance_ohm + more)
        case Shorted(element=name, resistance_ohm=ohm):
            old = elements[name]
            elements["short"] = Resistor("short", old.a, old.b, ohm)
        case Bridged(a=a, b=b, resistance_ohm=ohm):
            elements["bridge"] = Resistor("bridge", a, b, ohm)
        case Swapped(first=first, second=second):
            one, two = resistor(first), resistor(second)
            elements[first] = Resistor(first, one.a, two.b, one.resistance_ohm)
            elements[second] = Resistor(second, two.a, one.b, two.resistance_ohm)
    return Network(elements.values())


def test_single_faults_are_the_network_wired_so() -> None:
    network = large_rig(12)
    study = Study(network, COMMANDS, FAULTS)
    readings = study.solve(study.single_faults(), "nodes")

    for base, command in enumerate(COMMANDS):
        for n, fault in enumerate(FAULTS):
            row = base * len(FAULTS) + n
            assert furthest_v(readings, row, with_fault(network, fault), command) <= LEAK_V


def test_pairs_are_both_faults_wired() -> None:
    network = large_rig(12)
    pairs = [(0, 5), (1, 7), (2, 3), (6, 8), (4, 9)]
    study = Study(network, COMMANDS, FAULTS)
    readings = study.solve(study.fault_pairs(pairs), "nodes")

    for base, command in enumerate(COMMANDS):
        for n, (one, other) in enumerate(pairs):
            wired = with_fault(network, FAULTS[one])
            wired = with_fault(wired, FAULTS[other])
            assert furthest_v(readings, base * len(pairs) + n, wired, command) <= LEAK_V


def test_of_two_faults_on_one_element_the_larger_resistance_holds() -> None:
    network = large_rig(12)
    faults = (Opened("feed3"), Resisted("feed3", 0.5), Swapped("feed3", "feed4"))
    study = Study(network, faults=faults)
    readings = study.solve(study.fault_pairs(), "nodes")

    opened = with_fault(network, faults[0])
    assert furthest_v(readings, 0, opened) <= LEAK_V
    swapped = {e.name: e for e in with_fault(network, faults[2]).elements}
    del swapped["feed3"]
    assert furthest_v(readings, 1, Network(swapped.values())) <= LEAK_V


def test_no_resistance_more_changes_nothing() -> None:
    network = large_rig(12)
    faults = tuple(Resisted(f"feed{n}", 1e-15) for n in range(12))
    study = Study(network, COMMANDS, faults)
    whole = study.solve(study.fault_free(), "nodes")
    faulty = study.solve(study.single_faults(), "nodes")

    as_before = np.repeat(whole.voltages_v, len(faults), axis=0)
    assert np.abs(faulty.voltages_v - as_before).max() <= NODE_V


def test_memory_does_not_grow_with_the_number_of_cases() -> None:
    """Beyond the cases and the readings asked for, which the caller holds."""
    study = Study(large_rig(4), executor="arrays")

    def peak_mb(count: int) -> float:
        cases = study.variants(resistance_factor={"ground": np.linspace(0.5, 2.0, count)})
        tracemalloc.start()
        readings = study.solve(cases, [("lamp1", "0")])
        _, peak = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        kept = sum(
            table.nbytes
            for table in (
                readings.voltages_v,
                readings.floating,
                readings.residual_a,
                readings.rounds,
                readings.settled,
                readings.opened,
                readings.reopening,
            )
        )
        return (peak - kept) / 1e6

    few, many = peak_mb(20_000), peak_mb(80_000)
    assert (many - few) * 1e6 / 60_000 <= 48.0  # bytes a case; solving one takes thousands


def test_variants_are_cases_of_other_numbers() -> None:
    network = large_rig(12)
    factors = np.array([0.5, 1.0, 3.0])
    study = Study(network, COMMANDS, FAULTS)
    readings = study.solve(
        study.variants(
            1,
            resistance_factor={"feed0": factors, "ground": factors},
            resistance_ohm={"feed1": [0.1, 0.2, math.inf]},
            emf_v={"battery": [11.0, 12.0, 13.0]},
        ),
        "nodes",
    )

    for n, factor in enumerate(factors):
        case = Case(
            resistance_ohm={
                "feed0": 0.2 * factor,
                "ground": 0.03 * factor,
                "feed1": [0.1, 0.2, math.inf][n],
            },
            closed=COMMANDS[1].closed,
            emf_v={"battery": 11.0 + n},
        )
        assert furthest_v(readings, n, network, case) <= NODE_V


def test_a_fault_of_a_variant_overrules_its_numbers() -> None:
    network = large_rig(12)
    study = Study(network, COMMANDS, FAULTS)
    readings = study.solve(study.variants(0, 0, resistance_factor={"ground": [0.5, 2.0]}), "nodes")

    opened = Case(resistance_ohm={"ground": math.inf})
    assert furthest_v(readings, 0, network, opened) <= NODE_V
    assert furthest_v(readings, 1, network, opened) <= NODE_V


def test_the_order_of_the_cases_does_not_matter() -> None:
    study = Study(large_rig(12), COMMANDS, FAULTS)
    cases = study.fault_pairs()
    order = np.random.default_rng(5).permutation(len(cases))
    forth, mixed = study.solve(cases), study.solve(cases.take(order))

    assert np.abs(forth.voltages_v[order] - mixed.voltages_v).max() <= NODE_V
    assert (forth.opened[order] == mixed.opened).all()


def test_fuses_open_in_the_cases_that_call_for_it() -> None:
    """Hand: 12 V over 0.3 ohm is 40 A, 2.96 times 13.5 A but 0.99 times 40.5 A."""
    network = Network(
        [
            Source("battery", "post", "0", 12.0, 1e-4),
            Fuse("main", "post", "box", 1e-4, 30.0),
            Fuse("branch", "box", "feed", 1e-4, 10.0),
            Resistor("load", "feed", "0", 6.0),
        ]
    )
    study = Study(network, faults=(Bridged("feed", "0", 0.3), Resisted("load", 1.0)))
    readings = study.solve(study.single_faults(), [("feed", "0")])

    assert readings.fuses == ("main", "branch")
    assert readings.opened.tolist() == [[0, 1], [0, 0]]
    assert readings.voltages_v[0, 0] < 1e-6
    assert not readings.floating.any()


def test_a_long_run_tells_its_progress_and_can_be_stopped() -> None:
    study = Study(large_rig(6), COMMANDS, FAULTS[3:5])
    cases = study.variants(0, resistance_factor={"ground": np.linspace(0.5, 2.0, 10_000)})
    told: list[tuple[int, int]] = []
    study.solve(cases, progress=lambda done, total: told.append((done, total)))

    assert told[-1] == (10_000, 10_000)
    assert len(told) > 2
    assert told == sorted(told)
    with pytest.raises(Cancelled, match="of 10000 cases"):
        study.solve(cases, cancelled=lambda: True)


def test_faults_that_a_network_cannot_have_are_all_named() -> None:
    faults = (Opened("nobody"), Bridged("lamp1", "nowhere"), Resisted("load1", 1.0))
    with pytest.raises(ExceptionGroup) as raised:
        Study(large_rig(3), faults=faults)

    assert len(raised.value.exceptions) == 3


def test_variants_refuse_what_an_element_does_not_have() -> None:
    study = Study(large_rig(3))

    with pytest.raises(InvalidInput, match="above 0"):
        study.variants(resistance_factor={"ground": [1.0, -1.0]})
    with pytest.raises(InvalidInput, match="has this quantity"):
        study.variants(emf_v={"ground": [1.0]})
    with pytest.raises(InvalidInput, match="one length"):
        study.variants(resistance_factor={"ground": [1.0, 2.0], "feed1": [1.0]})
    with pytest.raises(InvalidInput, match="name a node"):
        study.solve(study.fault_free(), [("lamp1", "nowhere")])


@pytest.mark.parametrize("executor", ["arrays", "compiled"])
def test_from_nothing_is_the_same_answer(executor: Executor) -> None:
    study = Study(large_rig(12), COMMANDS, FAULTS, executor=executor)
    for cases in (study.fault_free(), study.single_faults(), study.fault_pairs()):
        known, cold = study.solve(cases, "nodes"), study.solve(cases, "nodes", from_known=False)
        assert np.abs(known.voltages_v - cold.voltages_v).max() <= NODE_V
        assert (known.opened == cold.opened).all()
        assert (known.floating == cold.floating).all()


def test_pairs_start_from_where_their_faults_came_to_rest() -> None:
    """A short blows a fuse beside a corroded ground: of each alone the end is known."""
    network = Network(
        [
            Source("battery", "post", "0", 12.8, 0.01),
            *(Fuse(f"fuse{n}", "post", f"feed{n}", 0.005, 10.0) for n in range(4)),
            *(Load(f"lamp{n}", f"feed{n}", "frame", Filament(13.5, 2.0)) for n in range(4)),
            Resistor("ground", "frame", "0", 0.05),
        ]
    )
    shorts = [Bridged(f"feed{n}", "0", 0.01) for n in range(4)]
    study = Study(network, faults=[*shorts, Resisted("ground", 0.3)])
    cases = study.fault_pairs([(n, 4) for n in range(4)])
    readings = study.solve(cases, "nodes")
    cold = study.solve(cases, "nodes", from_known=False)

    assert (readings.opened > 0).sum(axis=1).tolist() == [1] * 4
    assert readings.rounds.sum() < cold.rounds.sum()
    assert np.abs(readings.voltages_v - cold.voltages_v).max() <= NODE_V
