"""GRND01: a ground at least as thick as the thickest feed.

The heavy cable has 8 AWG of ground beside 10 AWG of stop and auxiliary (SAE J2247).
"""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import awg, brake_rig, caravan_rig

from loomwright.checks.rules.ground_thin import RULE
from loomwright.quantities import WireSize


def test_a_12_awg_socket_ground_is_thin_beside_a_10_awg_charge_line() -> None:
    rig = brake_rig()
    socket = replace(rig.sockets[0], ground=awg("12", 0.6))

    finding = only(RULE, unsolved(replace(rig, sockets=(socket,))))

    assert "10 AWG" in finding.fix
    assert not found(RULE, unsolved(rig))


def test_each_return_is_judged_by_the_feeds_it_serves() -> None:
    """Contact 13 returns 9, contact 11 returns 10, contact 3 the lamps (ISO 11446-1)."""
    rig = caravan_rig(jurisdiction="GB")
    thin = {**rig.trailer.run, "ground_battery": WireSize("mm2", "1.5")}

    finding = only(RULE, unsolved(replace(rig, trailer=replace(rig.trailer, run=thin))))

    assert "charge ground" in finding.where
    assert not found(RULE, unsolved(rig))


def test_vehicle_wire_counts_as_its_gauge() -> None:
    """10 SAE holds 10 % less copper than 10 AWG (SAE J1127)."""
    rig = brake_rig()
    run = {**rig.trailer.run, "ground": WireSize("sae", "10")}

    assert not found(RULE, unsolved(replace(rig, trailer=replace(rig.trailer, run=run))))
