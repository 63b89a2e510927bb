"""Bands and sensitivities: by hand, by the law of order statistics, and by separate solves."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import binom, lognorm
from scipy.stats import uniform as even
from tests.electrics.test_by_hand import bare_vehicle, heater
from tests.rigs import brake_rig, simple_rig, simple_trailer, van_rig

from loomwright.circuit import Cancelled, Network, Resistor, Source, solve
from loomwright.circuit.network import elements_in
from loomwright.electrics.quantiles import estimates, interval
from loomwright.electrics.sampling import PART, draw
from loomwright.electrics.sensitivity import STEP, slopes_of, what_matters
from loomwright.electrics.spreads import EMF, TAIL, WIRE_WARMTH, Spreads, Varied, spreads_of
from loomwright.electrics.tolerance import tolerance, worst_cases
from loomwright.electrics.varied import VariedRig, vary
from loomwright.electrics.wiring import wire_up
from loomwright.invalid import InvalidInput
from loomwright.rig.model import Rig


def heater_rig() -> Rig:
    """One heater of 12 ohm behind one wire out and one home, and no lamps."""
    trailer = simple_trailer(lamps=(), appliances=(heater("tail", 12.0, 12.0),))
    return simple_rig(vehicle=bare_vehicle(14.0, "tail"), trailer=trailer)


def at(varied: VariedRig, command: str) -> int:
    return [each.key for each in varied.commands].index(command)


def read_v(varied: VariedRig, command: str, **factors: float) -> float:
    """Volts of the first load with some things at other factors, all else nominal."""
    column = [[factors.get(each.name, 1.0)] for each in varied.spreads.varied]
    return float(varied.read(at(varied, command), np.array(column)).volts[0, 0])


def test_one_joint_by_hand() -> None:
    """V = E R / (R + r): a joint that goes from r0 to f r0 in a loop of one heater.

    The rest of the loop is what the nominal reading leaves: E R / V - R; the shunts of 1 nS
    are far below what is looked at.
    """
    varied = vary(heater_rig())
    emf_v, heater_ohm = 14.0, 12.0
    rest_ohm = emf_v * heater_ohm / read_v(varied, "park") - heater_ohm
    contact_ohm = 0.002  # new, as the table of joints has it

    worn = read_v(varied, "park", contact_2_tail=15.0)
    by_hand = emf_v * heater_ohm / (heater_ohm + rest_ohm + 14.0 * contact_ohm)
    assert worn == pytest.approx(by_hand, abs=1e-6)

    lean = read_v(varied, "park", **{EMF: 13.3 / 14.0})
    assert lean == pytest.approx(13.3 * heater_ohm / (heater_ohm + rest_ohm), abs=1e-6)


def test_warmth_goes_through_every_wire_and_nothing_else() -> None:
    """40 K more make copper 1 + 40 x 0.00393 times as resistive (IEC 60028)."""
    varied = vary(heater_rig())
    parts, warm = varied.wiring.parts, 1.0 + 40.0 * 0.00393
    wires_ohm = math.fsum(
        each.resistance_ohm
        for each in varied.wiring.network.elements
        if isinstance(each, Resistor)
        and parts[each.name].kind == "wire"
        and parts[each.name].function in ("tail", "ground")
    )
    rest_ohm = 14.0 * 12.0 / read_v(varied, "park") - 12.0

    by_hand = 14.0 * 12.0 / (12.0 + rest_ohm + (warm - 1.0) * wires_ohm)
    assert read_v(varied, "park", **{WIRE_WARMTH: warm}) == pytest.approx(by_hand, abs=1e-6)


def test_the_slope_of_a_ladder_is_that_of_the_formula() -> None:
    """dV/d(ln r) = -E R r / (R + r_all)^2 for any r in a loop with a load of R."""
    varied = vary(heater_rig())
    loop_ohm = 14.0 * 12.0 / read_v(varied, "park")
    slopes = slopes_of(varied, at(varied, "park")).per_share_v[:, 0]
    elements = {e.name: e for e in varied.wiring.network.elements}

    in_the_loop = 0
    for thing, slope in zip(varied.spreads.varied, slopes, strict=True):
        element = elements.get(thing.name)
        if isinstance(element, Resistor) and abs(slope) > 1e-9:
            formula = -14.0 * 12.0 * element.resistance_ohm / loop_ohm**2
            assert slope == pytest.approx(formula, rel=1e-4)
            in_the_loop += 1
    assert in_the_loop > 10


def test_slopes_are_those_of_the_adjoint_network() -> None:
    """dV_k/dr = -i_r j_r, j from 1 A drawn at the load of the same network without its EMFs.

    Tellegen's theorem; Director and Rohrer, "The generalized adjoint network and network
    sensitivities", IEEE Trans. Circuit Theory 16 (1969). Here on a rig whose only loads are
    magnets, which are resistances, with a ground they share.
    """
    rig = brake_rig()
    feeds = tuple(replace(each, lights=()) for each in rig.vehicle.feeds)
    rig = replace(
        rig,
        vehicle=replace(rig.vehicle, feeds=feeds),
        trailer=replace(rig.trailer, lamps=(), battery=None),
    )
    varied = vary(rig)
    base = at(varied, "brake_lever")
    elements = elements_in(varied.wiring.network, varied.bases[base])
    load = next(each for each in varied.wiring.loads if each.name == "axle 2 right")
    slopes = slopes_of(varied, base).per_share_v[:, varied.wiring.loads.index(load)]
    dead = [replace(e, emf_v=0.0) if isinstance(e, Source) else e for e in elements]
    probe = Source("probe", load.a, load.b, -1e9, 1e9)
    here, there = solve(Network(elements)), solve(Network([*dead, probe]))

    matter = 0
    for thing, slope in zip(varied.spreads.varied, slopes, strict=True):
        element = next((e for e in elements if e.name == thing.name), None)
        if isinstance(element, Resistor):
            i, j = here.currents_a[thing.name], there.currents_a[thing.name]
            adjoint = -i * j * element.resistance_ohm
            assert slope == pytest.approx(adjoint, rel=1e-4, abs=1e-7)
            matter += abs(slope) > 1e-5
    assert matter > 30


def test_slopes_are_those_of_separate_solves() -> None:
    varied = vary(simple_rig())
    base = at(varied, "park+brake_pedal")
    slopes = slopes_of(varied, base).per_share_v
    load = next(each for each in varied.wiring.loads if each.kind == "lamp")
    column = varied.wiring.loads.index(load)
    network, case = varied.wiring.network, varied.bases[base]
    for name in ("contact_1_ground", "cord_wire_2_tail", "ring_rear_4_way_ground"):
        element = network.element(name)
        assert isinstance(element, Resistor)
        volts = [
            solve(
                network,
                replace(case, resistance_ohm={name: element.resistance_ohm * (1.0 + step)}),
            ).across_v(load.element)
            for step in (-STEP, STEP)
        ]
        row = [each.name for each in varied.spreads.varied].index(name)
        apart = (volts[1] - volts[0]) / (2.0 * STEP)
        assert slopes[row, column] == pytest.approx(apart, rel=1e-4, abs=1e-6)


@pytest.mark.parametrize("rig", [simple_rig(), van_rig(), brake_rig()], ids=lambda rig: rig.name)
def test_no_sample_lies_outside_the_worst_cases(rig: Rig) -> None:
    varied = vary(rig)
    for base in range(len(varied.commands)):
        worst = varied.read(base, worst_cases(varied, base, slopes_of(varied, base))).volts
        drawn = varied.read(base, draw(varied.spreads, 7, 0, 300)).volts
        assert (drawn >= worst.min(axis=0) - 1e-6).all()
        assert (drawn <= worst.max(axis=0) + 1e-6).all()


def test_the_same_seed_gives_the_same_numbers() -> None:
    rig = simple_rig()
    assert tolerance(rig, 200, 5) == tolerance(rig, 200, 5)
    assert tolerance(rig, 200, 5) != tolerance(rig, 200, 6)


def test_parts_of_a_sample_are_not_each_other() -> None:
    spreads = spreads_of(wire_up(simple_rig()))
    first, second = draw(spreads, 3, 0, PART), draw(spreads, 3, 1, PART)
    shared = np.corrcoef(first[0], second[0])[0, 1]
    assert abs(shared) < 5.0 / math.sqrt(PART)


def test_joints_lie_between_new_and_aged() -> None:
    """One in twenty below the new figure and one in twenty above the aged one; SciPy's log-normal.

    The median of n samples is off by some 1.25 deviations over sqrt(n), the outer quantiles by
    sqrt(0.05 x 0.95 / n) / density = 2.1 deviations over sqrt(n).
    """
    count, deviation = 20_000, 0.7
    thing = Varied("joint", "resistance", 1e-6, 1e6, 2.0, deviation)
    (drawn,) = draw(Spreads((thing,), (), ()), 11, 0, count)
    for share in (0.05, 0.5, 0.95):
        expected = lognorm.ppf(share, deviation, scale=2.0)
        error = 4.0 * 2.2 * deviation / math.sqrt(count) * expected
        assert np.quantile(drawn, share) == pytest.approx(expected, abs=error)

    varied = {each.name: each for each in spreads_of(wire_up(simple_rig())).varied}
    contact = varied["contact_1_ground"]  # 2 milliohm new, 20 aged; the rig is new
    assert contact.middle * math.exp(-TAIL * contact.deviation) == pytest.approx(1.0)
    assert contact.middle * math.exp(TAIL * contact.deviation) == pytest.approx(10.0)


@pytest.mark.parametrize("share", [0.05, 0.5, 0.95])
@pytest.mark.parametrize("count", [100, 999, 20_000])
def test_the_interval_of_a_quantile_holds_it_as_often_as_it_says(count: int, share: float) -> None:
    """SciPy's binomial: the quantile lies between the two order statistics with 95 % or more."""
    low, high = interval(count, share)
    holds = binom.cdf(high, count, share) - binom.cdf(low, count, share)
    assert holds >= 0.95 or low == 0
    tighter = binom.cdf(high - 1, count, share) - binom.cdf(low + 1, count, share)
    assert tighter < 0.95


def test_the_sampling_error_falls_with_the_square_root_of_the_samples() -> None:
    rng = np.random.default_rng(2)
    widths = []
    for count in (1_000, 4_000, 16_000):
        drawn = np.sort(rng.uniform(0.0, 1.0, (count, 40)), axis=0)
        widths.append(np.mean([each.high - each.low for each in estimates(drawn, 0.5)]))
    assert widths[0] / widths[1] == pytest.approx(2.0, rel=0.1)
    assert widths[1] / widths[2] == pytest.approx(2.0, rel=0.1)
    held = [each.low <= even.ppf(0.5) <= each.high for each in estimates(drawn, 0.5)]
    assert sum(held) >= 34  # of 40, at 95 %


def test_a_band_is_in_order_and_holds_the_nominal_reading() -> None:
    found = tolerance(brake_rig(), 300)
    for command in found.commands:
        for load in command.loads:
            band = load.voltage_v
            assert band.least <= band.low.value <= band.middle.value <= band.high.value
            assert band.high.value <= band.most
            assert band.least <= band.nominal <= band.most
    brake = found.at("brake_lever").load("axle 1 left")
    assert brake.current_a is not None
    assert brake.current_a.least < brake.current_a.low.value < brake.current_a.high.value
    assert found.at("rest").opened == dict.fromkeys(found.at("rest").opened, 0.0)


def test_amps_of_a_magnet_are_its_volts_over_its_resistance() -> None:
    """12 in magnet: 3.2 ohm at 20 °C and 3.2 (1 + 80 x 0.00393) = 4.2 ohm at 100 °C."""
    band = tolerance(brake_rig(), 100).at("brake_lever").load("axle 1 left")
    assert band.current_a is not None
    assert band.current_a.nominal == pytest.approx(band.voltage_v.nominal / 3.2, rel=1e-6)


def test_new_joints_make_a_narrower_band() -> None:
    rig = simple_rig()
    both = [tolerance(rig, 400, joints=each).at("park") for each in ("new", "any")]
    new, aged = (each.load("left rear tail").voltage_v for each in both)
    assert new.most - new.least < aged.most - aged.least


def test_what_matters_most_comes_first_and_says_where_it_is() -> None:
    varied = vary(simple_rig())
    ranked = what_matters(varied, "park", "left rear tail")
    assert ranked[0].name == EMF
    assert [abs(each.swing_v) for each in ranked] == sorted(
        (abs(each.swing_v) for each in ranked), reverse=True
    )
    assert all(each.place for each in ranked)
    with pytest.raises(KeyError):
        what_matters(varied, "park", "no such lamp")


def test_it_tells_how_far_it_is_and_stops_when_asked() -> None:
    told: list[tuple[int, int]] = []
    tolerance(simple_rig(), 100, progress=lambda done, total: told.append((done, total)))
    assert told[-1][0] == told[-1][1] == 100 * len(vary(simple_rig()).commands)
    with pytest.raises(Cancelled):
        tolerance(simple_rig(), 100, cancelled=lambda: True)


@pytest.mark.parametrize(("samples", "seed"), [(99, 1), (200_001, 1), (100, -1)])
def test_numbers_that_cannot_be_used(samples: int, seed: int) -> None:
    with pytest.raises(InvalidInput):
        tolerance(simple_rig(), samples, seed)


def test_a_plain_case_changes_nothing() -> None:
    """All factors 1 is the rig as it was solved alone."""
    varied = vary(van_rig())
    ones = np.ones((len(varied.spreads.varied), 1))
    for base, case in enumerate(varied.bases):
        alone = solve(varied.wiring.network, case)
        for load, volts in zip(varied.wiring.loads, varied.read(base, ones).volts[0], strict=False):
            if not {load.a, load.b} & alone.floating:
                assert volts == pytest.approx(alone.across_v(load.element), abs=1e-8)
