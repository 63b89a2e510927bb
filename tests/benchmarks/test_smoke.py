"""The benchmarks run, at a tiny size and untimed: what they compare is the same circuit."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest
from benchmarks.arbiter import exact_voltages
from benchmarks.deck import make_deck, steps
from benchmarks.long_trailer import long_trailer
from benchmarks.machine import machine
from benchmarks.measuring import measure
from benchmarks.ngspice_peer import NgspicePeer, NoNgspice
from benchmarks.page import page
from benchmarks.rigs import measured, spread
from benchmarks.running import Run, measure_rig, open_peer
from benchmarks.workloads import TINY, Bench
from tests.rigs import simple_rig

from loomwright import examples, read_rig
from loomwright.circuit import Case, Network, Resistor, Source, solve
from loomwright.circuit.faults import Bridged, Opened, Resisted
from loomwright.electrics.wiring import wire_up


@pytest.fixture
def said() -> list[str]:
    return []


@pytest.fixture
def peer(tmp_path: Path, said: list[str]) -> NgspicePeer | None:
    """Start ngspice in process; where it is missing the run says so and goes on without."""
    return open_peer(tmp_path, said.append)


def test_a_tiny_run_compares_equal_circuits_and_writes_the_page(
    tmp_path: Path, peer: NgspicePeer | None, said: list[str]
) -> None:
    rig = measured("demo", "a small rig", examples.text("utility-rewire"), TINY.faults)
    run = Run(TINY, tmp_path, date(2026, 1, 1), said.append)
    found = measure_rig(rig, run, peer)

    assert {one.key for one in found} == {"W1", "W2", "W3", "W4"}
    assert all(one.ours_us > 0.0 for one in found)
    if peer is None:
        assert any("install libngspice0-dev" in line or "install gcc" in line for line in said)
        assert all(one.ratio is None for one in found)
    else:
        for one in found:
            assert one.accuracy is not None
            assert one.accuracy.compared == one.accuracy.sampled
            assert one.accuracy.held_v <= 1e-6 or one.accuracy.ours_v <= 1e-7
            assert one.accuracy.residual_a <= 1e-9
    text = page(found, (), (rig,), TINY, (machine(), run.day, 0.2))
    assert "2026-01-01" in text
    assert "| W3 | a small rig |" in text
    assert "**One cold call loses.**" in text
    assert "busy" not in text
    assert "**The machine was busy**" in page(found, (), (rig,), TINY, (machine(), run.day, 3.0))


def test_without_a_compiler_it_says_what_to_install(tmp_path: Path) -> None:
    lines: list[str] = []
    with pytest.raises(NoNgspice, match="install gcc"):
        NgspicePeer(tmp_path, compiler="no-such-compiler")
    assert open_peer(tmp_path, lines.append, compiler="no-such-compiler") is None
    assert "only our own times" in lines[0]


def test_without_the_library_it_says_what_to_install(tmp_path: Path) -> None:
    """`false` is a program that fails, as a compiler does without the header."""
    with pytest.raises(NoNgspice, match="install libngspice0-dev"):
        NgspicePeer(tmp_path, compiler="false")


def test_it_goes_without_ngspice() -> None:
    rig = measured("tiny", "tiny", examples.text("utility-rewire"), 4)
    workload = Bench(rig, TINY, "arrays").cold()
    (one,) = measure("tiny", {"arrays": workload}, None, 1, lambda _: None)
    assert (one.ratio, one.peer_us, one.accuracy) == (None, None, None)


def test_a_deck_alters_no_more_than_it_must_and_is_put_back() -> None:
    network = Network(
        (Source("e", "p", "0", 12.0, 0.1), Resistor("r", "p", "q", 1.0), Resistor("s", "q", "0", 2))
    )
    faults = (Opened("r"), Resisted("s", 1.0), Bridged("p", "q"))
    deck = make_deck(network, faults)
    states = [deck.of(Case(), [each]) for each in faults]

    assert list(steps(deck, states)) == [
        ["alter rr = 1e+17", "op", "destroy all"],
        ["alter rr = 1.0", "alter rs = 3.0", "op", "destroy all"],
        ["alter rs = 2.0", "alter rbridge__0 = 0.005", "op", "destroy all"],
        ["alter rbridge__0 = 1e+17"],
    ]


def test_the_arbiter_finds_the_voltages_of_a_divider() -> None:
    """12 V over 0.1 + 1 + 2 ohm."""
    network = Network(
        (Source("e", "p", "0", 12.0, 0.1), Resistor("r", "p", "q", 1.0), Resistor("s", "q", "0", 2))
    )
    deck = make_deck(network)
    found = exact_voltages(deck, deck.state, np.zeros(2))
    assert found == pytest.approx([12.0 * 3.0 / 3.1, 12.0 * 2.0 / 3.1], abs=1e-7)


def test_the_arbiter_stays_where_a_rig_has_settled() -> None:
    network = wire_up(simple_rig()).network
    deck = make_deck(network)
    near = np.array([solve(network).voltages_v[node] for node in network.nodes])
    assert exact_voltages(deck, deck.state, near) == pytest.approx(near, abs=1e-7)


def test_the_long_trailer_is_16_m_with_60_lamps() -> None:
    trailer = read_rig(long_trailer(), "long.toml").trailer
    assert trailer.length_m == 16.0
    assert len(trailer.lamps) == 60


def test_what_is_spread_is_spread_evenly() -> None:
    assert spread(range(10), 5) == [0, 2, 4, 6, 8]
    assert spread(range(3), 5) == [0, 1, 2]
