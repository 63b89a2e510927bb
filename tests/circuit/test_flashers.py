"""Flashers: what the current of the lit half makes of the beat.

What they must do when a lamp fails: FMVSS 108 (49 CFR 571.108) S9.3 and UN Regulation 48, 6.5.8,
both from memory: the driver's indicator stays on, stays off, or clearly changes its rate; a
variable-load flasher on a vehicle equipped to tow need not. Currents are by hand: 12 V, and
lamps of 6 ohm that take 2 A each.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loomwright.circuit import (
    Beat,
    Case,
    Driver,
    Element,
    Flasher,
    Fuse,
    Network,
    Resistor,
    Source,
    beats,
    solve,
)
from loomwright.circuit.faults import Opened, Shorted
from loomwright.circuit.study import Study
from loomwright.invalid import InvalidInput

COUNTING = Flasher("flasher", "fused", "feed", 1e-6, closed=True, fast_below_a=3.0)
"""It counts: two lamps are 4 A, one is 2 A."""

THERMAL = replace(COUNTING, fast_below_a=0.0, steady_below_a=3.0)
VARIABLE = replace(COUNTING, fast_below_a=0.0)
LOST = {"ground": 1e17}


def signals(flasher: Flasher, lamps_ohm: Mapping[str, float], *more: Element) -> Network:
    """A battery, the flasher, lamps on its feed, and a ground that they share."""
    return Network(
        [
            Source("battery", "post", "0", 12.0, 1e-6),
            Resistor("wire", "post", "fused", 1e-6),
            flasher,
            *(Resistor(name, "feed", "frame", ohm) for name, ohm in lamps_ohm.items()),
            Resistor("ground", "frame", "0", 1e-6),
            *more,
        ]
    )


def beat(network: Network, case: Case | None = None) -> Beat:
    return beats(network, solve(network, case or Case()), case)["flasher"]


BOTH = {"front": 6.0, "rear": 6.0}


def test_with_all_its_lamps_it_beats_and_takes_their_current() -> None:
    solution = solve(signals(COUNTING, BOTH))

    assert solution.currents_a["flasher"] == pytest.approx(4.0, abs=1e-4)
    for flasher in (COUNTING, THERMAL, VARIABLE):
        assert beat(signals(flasher, BOTH)) is Beat.NORMAL


def test_a_dead_lamp_shows_by_the_beat_unless_the_load_may_vary() -> None:
    one_dead = Case(resistance_ohm={"rear": 1e17})

    assert beat(signals(COUNTING, BOTH), one_dead) is Beat.FAST
    assert beat(signals(THERMAL, BOTH), one_dead) is Beat.STEADY
    assert beat(signals(VARIABLE, BOTH), one_dead) is Beat.NORMAL


def test_switched_off_it_is_at_rest() -> None:
    off = Case(closed={"flasher": False})

    assert beat(signals(COUNTING, BOTH), off) is Beat.AT_REST
    assert abs(solve(signals(COUNTING, BOTH), off).currents_a["front"]) < 1e-9


def test_led_lamps_are_taken_for_dead_ones_until_a_resistor_loads_the_feed() -> None:
    """Hand: two of 60 ohm are 0.4 A; with 4 ohm beside them 3.4 A."""
    light = {"front": 60.0, "rear": 60.0}

    assert beat(signals(COUNTING, light)) is Beat.FAST
    assert beat(signals(COUNTING, {**light, "resistor": 4.0})) is Beat.NORMAL


def test_a_trailer_lamp_more_hides_a_dead_one_of_the_vehicle() -> None:
    """Hand: three lamps are 6 A, two of them 4 A: no flasher that counts amperes can tell."""
    three = {**BOTH, "trailer": 6.0}

    assert beat(signals(COUNTING, three), Case(resistance_ohm={"rear": 1e17})) is Beat.NORMAL


def test_a_lamp_that_glows_backwards_is_counted_by_its_current() -> None:
    """The lamps lose their ground and find it through a lamp of another circuit.

    Hand: 3 ohm and 6 ohm in line are 9 ohm, 1.33 A; the lamps glow at 4 V, and it flashes fast.
    """
    network = signals(COUNTING, BOTH, Resistor("tail", "frame", "0", 6.0))
    lost = Case(resistance_ohm=LOST)
    solution = solve(network, lost)

    assert solution.currents_a["flasher"] == pytest.approx(12.0 / 9.0, abs=1e-5)
    assert solution.across_v("front") == pytest.approx(4.0, abs=1e-5)
    assert beats(network, solution, lost)["flasher"] is Beat.FAST


def test_the_beat_is_that_of_the_rest_after_a_fuse_has_opened() -> None:
    """A short at the trailer would be current enough; its fuse takes it away, and its lamp.

    Hand: 40 A in 0.3 ohm opens a fuse of 10 A; the lamp of the vehicle keeps 2 A.
    """
    trailer = (
        Fuse("fuse", "feed", "plug", 1e-6, 10.0),
        Resistor("trailer", "plug", "0", 6.0),
        Resistor("short", "plug", "0", 0.3),
    )
    network = signals(COUNTING, {"front": 6.0}, *trailer)
    solution = solve(network)

    assert solution.opened == ("fuse",)
    assert solution.currents_a["flasher"] == pytest.approx(2.0, abs=1e-4)
    assert beats(network, solution)["flasher"] is Beat.FAST
    assert beat(network, Case(resistance_ohm={"short": 1e17})) is Beat.NORMAL


def test_behind_a_fuse_that_has_opened_nothing_beats() -> None:
    """Hand: 40 A; then no current at all: a thermal flasher stays where it is."""
    network = Network(
        [
            Source("battery", "post", "0", 12.0, 1e-6),
            Fuse("fuse", "post", "fused", 1e-6, 10.0),
            THERMAL,
            Resistor("short", "feed", "0", 0.3),
        ]
    )

    assert solve(network).opened == ("fuse",)
    assert beat(network) is Beat.STEADY


def test_a_driver_that_finds_no_load_goes_before_the_beat_is_read() -> None:
    """Hand: a monitored output opens below 0.5 A; without it the flasher has 2 A."""
    trailer = Driver("output", "feed", "plug", 1e-6, True, 20.0, least_a=0.5)
    network = signals(COUNTING, {"front": 6.0}, trailer, Resistor("lamp", "plug", "0", 60.0))
    solution = solve(network)

    assert solution.opened == ("output",)
    assert beats(network, solution)["flasher"] is Beat.FAST


@given(st.floats(1.0, 200.0), st.floats(0.0, 4.0), st.floats(0.0, 1.0))
def test_the_beat_agrees_with_the_current_it_comes_from(
    lamp_ohm: float, fast_below_a: float, share: float
) -> None:
    """One answer, by Ohm's law alone, whatever the thresholds: the beat moves no current."""
    thresholds = fast_below_a, share * fast_below_a
    flasher = replace(VARIABLE, fast_below_a=thresholds[0], steady_below_a=thresholds[1])
    current_a = 12.0 / lamp_ohm
    network = signals(flasher, {"lamp": lamp_ohm})
    solution = solve(network)

    assert solution.currents_a["flasher"] == pytest.approx(current_a, rel=1e-5)
    if min(abs(current_a - threshold) for threshold in thresholds) > 1e-3:
        steady, fast = current_a < thresholds[1], current_a < thresholds[0]
        expected = Beat.STEADY if steady else Beat.FAST if fast else Beat.NORMAL
        assert beats(network, solution)["flasher"] is expected


def test_in_a_study_it_is_a_switch_that_faults_may_open_or_short() -> None:
    """The lit half in a batch: a contact that never closes, and one that is welded."""
    faults = Opened("flasher"), Shorted("flasher", 1e-6)
    off = Case(closed={"flasher": False})
    study = Study(signals(COUNTING, BOTH), (Case(), off), faults)
    feed_v = study.solve(study.single_faults(), [("feed", "0")]).voltages_v[:, 0]

    assert feed_v == pytest.approx([0.0, 12.0, 0.0, 12.0], abs=1e-4)


@pytest.mark.parametrize(
    ("given_a", "field"),
    [
        ({"fast_below_a": -1.0}, "flasher.fast_below_a"),
        ({"fast_below_a": 1.0, "steady_below_a": 2.0}, "flasher.steady_below_a"),
    ],
)
def test_thresholds_that_cannot_be_are_refused(given_a: dict[str, float], field: str) -> None:
    with pytest.raises(InvalidInput) as raised:
        replace(VARIABLE, **given_a)

    assert raised.value.field == field
