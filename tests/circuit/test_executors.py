"""Arrays and compiled code run the same programs to the same answers."""

from __future__ import annotations

import math
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from tests.circuit.networks import LAWS, large_rig, networks, stateful_networks
from tests.circuit.test_study import COMMANDS, FAULTS

from loomwright.circuit import ConstantPower, Fuse, Load, Network, Source, Transformed
from loomwright.circuit.faults import Fault, Opened
from loomwright.circuit.readings import Readings
from loomwright.circuit.study import Study

NODE_V = 1e-8


def both(network: Network, faults: tuple[Fault, ...] = ()) -> tuple[Study, Study]:
    return (
        Study(network, COMMANDS if faults is FAULTS else COMMANDS[:1], faults, executor="arrays"),
        Study(network, COMMANDS if faults is FAULTS else COMMANDS[:1], faults, executor="compiled"),
    )


def need_same(arrays: Readings, compiled: Readings) -> None:
    assert arrays.settled.all()
    assert compiled.settled.all()
    assert np.abs(arrays.voltages_v - compiled.voltages_v).max(initial=0.0) <= NODE_V
    assert (arrays.floating == compiled.floating).all()
    assert (arrays.opened == compiled.opened).all()
    assert (arrays.off == compiled.off).all()
    assert (arrays.cycling == compiled.cycling).all()
    assert max(r.residual_a.max(initial=0.0) for r in (arrays, compiled)) <= 1e-9


@given(networks())
@settings(max_examples=40)
def test_they_agree_on_random_networks(network: Network) -> None:
    """Every conductor opened in turn: islands, floating batteries, loads of every kind."""
    faults = tuple(Opened(e.name) for e in network.elements if not isinstance(e, Source | Load))
    arrays, compiled = both(network, faults)

    need_same(
        arrays.solve(arrays.single_faults(), "nodes"),
        compiled.solve(compiled.single_faults(), "nodes"),
    )


@given(stateful_networks())
@settings(max_examples=30)
def test_they_settle_in_the_same_states(network: Network) -> None:
    fuses = tuple(Opened(e.name) for e in network.elements if isinstance(e, Fuse))
    arrays, compiled = both(network, fuses)

    need_same(
        arrays.solve(arrays.fault_free(), "nodes"), compiled.solve(compiled.fault_free(), "nodes")
    )


def test_they_agree_on_faults_and_pairs_of_a_rig() -> None:
    arrays, compiled = both(large_rig(), FAULTS)
    for cases in (arrays.single_faults(), arrays.fault_pairs()):
        compiled.fault_pairs([(0, 1)])
        need_same(arrays.solve(cases, "nodes"), compiled.solve(cases, "nodes"))


def test_they_agree_on_samples() -> None:
    arrays, compiled = both(large_rig(), FAULTS)
    chance = np.random.default_rng(7)
    factors = {f"feed{n}": np.exp(chance.normal(0.0, 0.3, 1001)) for n in range(40)}
    factors |= {f"return{n}": np.exp(chance.normal(0.0, 0.3, 1001)) for n in range(40)}
    cases = arrays.variants(1, 4, resistance_factor=factors)

    need_same(arrays.solve(cases, "nodes"), compiled.solve(cases, "nodes"))


def test_threads_change_nothing() -> None:
    cases = Study(large_rig(), COMMANDS, FAULTS).fault_pairs()
    alone = Study(large_rig(), COMMANDS, FAULTS, executor="compiled")
    together = Study(large_rig(), COMMANDS, FAULTS, executor="compiled", threads=2)
    for study in (alone, together):
        study.fault_pairs([(0, 1)])

    assert (alone.solve(cases).voltages_v == together.solve(cases).voltages_v).all()


@pytest.mark.parametrize("executor", ["arrays", "compiled"])
def test_every_law_alone(executor: str) -> None:
    """One load of each kind behind a wire, from reverse to overvoltage, held to the law itself."""
    emf_v = np.linspace(-30.0, 30.0, 241)
    for law in LAWS:
        network = Network([Source("s", "a", "0", 12.0, 0.7), Load("load", "a", "0", law)])
        study = Study(network, executor="compiled" if executor == "compiled" else "arrays")
        readings = study.solve(study.variants(emf_v={"s": emf_v}), "nodes")
        for emf, volts in zip(emf_v, readings.voltages_v[:, 0].tolist(), strict=True):
            left_a = (emf - volts) / 0.7 - law.current_a(volts) - 1e-9 * volts
            assert abs(left_a) <= 1e-9


def test_small_jobs_do_not_wait_for_a_compiler_unless_told_to() -> None:
    """In a fresh process a job of some hundred cases loads no compiler by itself."""
    code = (
        "from tests.circuit.networks import large_rig\n"
        "from loomwright.circuit.study import Study\n"
        "import sys\n"
        "study = Study(large_rig())\n"
        "study.solve(study.variants(resistance_factor={'ground': [1.0] * 500}))\n"
        "assert 'numba' not in sys.modules\n"
        "Study(large_rig(), executor='compiled')\n"
        "assert 'numba' in sys.modules\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_a_converter_and_constant_power_agree_in_a_batch() -> None:
    network = Network(
        [
            Source("battery", "post", "0", 12.8, 0.02),
            Transformed("dc", "post", "0", "out", "0", 14.4, 0.05, 0.9, 20.0, 9.0),
            ConstantPower("lamp", "out", "0", 20.0, 7.0, 8.0),
            ConstantPower("charger", "post", "0", 300.0, 9.0, math.inf),
        ]
    )
    arrays, compiled = both(network)
    cases = arrays.variants(emf_v={"battery": np.linspace(6.0, 15.0, 60)})

    need_same(arrays.solve(cases, "nodes"), compiled.solve(cases, "nodes"))
