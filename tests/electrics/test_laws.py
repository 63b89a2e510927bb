"""Laws that hold for every rig: sums, symmetry, and no magic in a longer wire."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.electrics.gallery import GALLERY, solved_rig
from tests.electrics.ideal import solved
from tests.rigs import awg, feed, simple_rig, simple_trailer, simple_vehicle

from loomwright.electrics.answers import CommandAnswer
from loomwright.electrics.conditions import conditions_for
from loomwright.electrics.wiring import wire_up
from loomwright.quantities import WireSize
from loomwright.rig.model import Appliance, Returns, Rig

LENGTHS_M = st.floats(0.1, 30.0)


def every(name: str) -> list[tuple[float, CommandAnswer]]:
    """EMF and readings of every command under every set of conditions."""
    made = solved_rig(name)
    emf_v = {each.key: each.emf_v for each in conditions_for(GALLERY[name]())}
    return [(emf_v[conditions], reading) for (_, conditions), reading in made.by_case.items()]


@pytest.mark.parametrize("name", GALLERY)
def test_every_ladder_adds_up_to_the_emf(name: str) -> None:
    """Kirchhoff's voltage law around the loop of every load, in every case."""
    for emf_v, reading in every(name):
        for load in reading.loads:
            supply_v = sum(r.drop_v for r in load.ladder if r.part.path == "supply")
            return_v = sum(r.drop_v for r in load.ladder if r.part.path == "return")
            whole_v = load.supply_drop_v + load.voltage_v + load.return_drop_v
            assert whole_v == pytest.approx(emf_v, abs=1e-9)
            if load.ladder:
                assert supply_v == pytest.approx(load.supply_drop_v, abs=1e-6)
                assert return_v == pytest.approx(load.return_drop_v, abs=1e-6)


@pytest.mark.parametrize("name", GALLERY)
def test_currents_and_power_balance(name: str) -> None:
    """Kirchhoff's current law at every node, and power given is power taken."""
    for _, reading in every(name):
        assert reading.kirchhoff_residual_a < 1e-9
        assert abs(reading.power_residual_w) < 1e-6


@pytest.mark.parametrize("name", GALLERY)
def test_every_rung_obeys_ohms_law(name: str) -> None:
    """Drop is current times resistance, but where a part holds back or changes the voltage."""
    for _, reading in every(name):
        for load in reading.loads:
            for rung in load.ladder:
                if rung.part.kind in ("wire", "joint", "contact", "frame", "chassis"):
                    by_ohm_v = rung.current_a * rung.resistance_ohm
                    assert rung.drop_v == pytest.approx(by_ohm_v, rel=1e-6, abs=1e-7)


def mirrored(name: str) -> str:
    """Name of the load on the other side."""
    sides = {"left": "right", "right": "left"}
    return " ".join(sides.get(word, word) for word in name.split())


def test_left_and_right_of_an_even_trailer_read_alike() -> None:
    made = solved_rig("simple_rig")

    for conditions in made.conditions:
        for command in ("park", "brake_pedal", "hazard", "park+brake_pedal", "all"):
            reading = made.at(command, conditions)
            for load in reading.loads:
                other = reading.load(mirrored(load.name))
                assert load.voltage_v == pytest.approx(other.voltage_v, abs=1e-9)
        left, right = made.at("left", conditions), made.at("right", conditions)
        assert left.supply_current_a == pytest.approx(right.supply_current_a, abs=1e-9)


def heaters(*, cord_m: float, back_m: float, size: str, returns: Returns) -> Rig:
    """A purely resistive trailer: three heaters on one feed, no filaments anywhere."""
    loads = tuple(
        Appliance(
            f"heater {n}",
            "tail",
            "resistance",
            24.0,
            12.0,
            back_m * n / 3,
            awg("16", 0.5),
            awg("16", 0.5),
            "sealed-butt",
        )
        for n in (1, 2, 3)
    )
    plain = simple_trailer(lamps=(), appliances=loads, returns=returns)
    cord = tuple(replace(w, wire=replace(w.wire, length_m=cord_m)) for w in plain.cord)
    run = dict.fromkeys(plain.run, WireSize("awg", size))
    return simple_rig(
        vehicle=simple_vehicle(feeds=(feed("tail", fuse=None),)),
        trailer=replace(plain, cord=cord, run=run),
    )


@given(
    cord_m=LENGTHS_M,
    back_m=LENGTHS_M,
    longer=st.floats(1.0, 3.0),
    size=st.sampled_from(("18", "16", "14", "12", "10")),
    returns=st.sampled_from(Returns),
)
def test_longer_wire_never_raises_the_voltage_at_a_resistance(
    cord_m: float, back_m: float, longer: float, size: str, returns: Returns
) -> None:
    """A resistive network with one source: more resistance in series never helps a load."""
    short = heaters(cord_m=cord_m, back_m=back_m, size=size, returns=returns)
    long = heaters(cord_m=cord_m * longer, back_m=back_m, size=size, returns=returns)

    before, after = solved(wire_up(short), "park"), solved(wire_up(long), "park")

    for load in before.loads:
        assert after.load(load.name).voltage_v <= load.voltage_v + 1e-9


@given(back_m=LENGTHS_M, size=st.sampled_from(("18", "16", "14", "12")))
def test_the_farther_of_equal_loads_gets_less(back_m: float, size: str) -> None:
    rig = heaters(cord_m=1.0, back_m=back_m, size=size, returns=Returns.WIRE)

    reading = solved(wire_up(rig), "park")

    volts = [load.voltage_v for load in reading.loads]
    assert volts == sorted(volts, reverse=True)


@pytest.mark.parametrize("name", ["brake_rig", "caravan_rig"])
def test_conditions_bound_what_a_lamp_gets(name: str) -> None:
    """Least light is never more than nominal, largest currents never less."""
    made = solved_rig(name)

    for load in made.at("park").loads:
        if load.kind == "lamp" and load.commanded:
            dim = made.at("park", "dim").load(load.name).voltage_v
            heavy = made.at("park", "heavy").load(load.name).voltage_v
            assert dim <= load.voltage_v <= heavy
