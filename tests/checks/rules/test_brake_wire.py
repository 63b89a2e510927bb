"""BRAK03: 12 AWG for four magnets to 30 ft, 10 AWG to 50 ft. Source: a trade table."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import awg, brake, brake_rig

from loomwright.checks.rule import Work
from loomwright.checks.rules.brake_wire import RULE
from loomwright.quantities import WireSize


def run_of(size: str, back_m: float = 4.0) -> Work:
    rig = brake_rig()
    cord = tuple(
        replace(wire, wire=awg("10", 2.0)) if wire.function == "brake" else wire
        for wire in rig.trailer.cord
    )
    run = {**rig.trailer.run, "brake": WireSize("awg", size)}
    brakes = tuple(brake(f"axle {n}", n, "left", back_m) for n in (1, 2, 3, 4))
    return unsolved(replace(rig, trailer=replace(rig.trailer, cord=cord, run=run, brakes=brakes)))


def test_14_awg_is_thin_for_four_magnets_and_12_awg_is_not() -> None:
    assert "12 AWG" in only(RULE, run_of("14")).fix
    assert not found(RULE, run_of("12"))


def test_beyond_30_ft_it_takes_10_awg() -> None:
    """12 m are 39 ft."""
    assert "10 AWG" in only(RULE, run_of("12", back_m=12.0)).fix
    assert not found(RULE, run_of("10", back_m=12.0))


def test_vehicle_wire_of_the_gauge_passes() -> None:
    """12 SAE holds 10.7 % less copper than 12 AWG (SAE J1127) and is sold as 12 gauge."""
    work = run_of("12")
    run = {**work.rig.trailer.run, "brake": WireSize("sae", "12")}

    sae = replace(work.rig, trailer=replace(work.rig.trailer, run=run))

    assert not found(RULE, unsolved(sae))
