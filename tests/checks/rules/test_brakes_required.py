"""LAWS05: Australia asks for brakes above 750 kg (ADR 38); 49 CFR 393.42 above 3000 lb."""

from dataclasses import replace

from tests.checks.builders import found, unsolved
from tests.rigs import simple_rig

from loomwright.checks.rules.brakes_required import RULE
from loomwright.rig.model import Braking, Rig


def heavy(mass_kg: float, place: str, *, commercial: bool = False) -> Rig:
    rig = simple_rig(jurisdiction=place, commercial=commercial)
    return replace(rig, trailer=replace(rig.trailer, gross_mass_kg=mass_kg))


def test_australian_limits() -> None:
    assert found(RULE, unsolved(heavy(760.0, "AU")))
    assert not found(RULE, unsolved(heavy(740.0, "AU")))


def test_us_federal_limits_bind_commercial_rigs_only() -> None:
    assert found(RULE, unsolved(heavy(1500.0, "US", commercial=True)))
    assert not found(RULE, unsolved(heavy(1500.0, "US")))


def test_brakes_of_any_kind_pass() -> None:
    rig = heavy(1500.0, "AU")
    braked = replace(rig, trailer=replace(rig.trailer, braking=Braking.SURGE))

    assert not found(RULE, unsolved(braked))
