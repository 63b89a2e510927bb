"""From faults of rigs to kinds of the catalogue."""

from __future__ import annotations

import pytest

from loomwright.trace.catalogue import is_exact, kinds_of
from loomwright.trace.faults import faults_of
from loomwright.trace.model import RigFault
from loomwright.trace.typical import rigs_for


def fault(place: str, form: str, circuit: str) -> RigFault:
    side = "vehicle" if place.startswith("vehicle") else "trailer"
    return RigFault("k", "t", side, place, "part", form, circuit, (), 1.0)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("place", "form", "circuit", "keys"),
    [
        ("trailer.ground.main", "open", "ground", {"F48"}),
        ("trailer.ground.lamp", "high_resistance", "ground", {"F52"}),
        ("vehicle.fuse", "open", "tail", {"F01"}),
        ("vehicle.fuse", "open", "right", {"F02"}),
        ("trailer.brake.wire", "intermittent_short", "brake", {"F75", "F76"}),
        ("vehicle.controller", "stuck_on", "brake", {"F30"}),
        ("trailer.brake.ground", "open", "ground", {"F79"}),
        ("trailer.plug.terminal", "intermittent_open", "left", {"F40"}),
        ("vehicle.harness", "open", "brake", {"F06", "F29"}),
        ("trailer.cord", "short_to_circuit", "left", {"F43"}),
    ],
)
def test_place_form_and_circuit_name_the_kind(
    place: str, form: str, circuit: str, keys: set[str]
) -> None:
    assert {kind.key for kind in kinds_of(fault(place, form, circuit))} == keys


def test_a_kind_that_needs_what_the_rig_lacks_is_left_out() -> None:
    lost = fault("coupling", "open", "ground")

    assert [kind.key for kind in kinds_of(lost)] == ["F91"]
    assert "F91" not in {kind.key for kind in kinds_of(lost, frozenset({"13-pin"}))}


def test_nearly_every_fault_of_a_typical_rig_has_a_kind_at_its_place() -> None:
    """Most faults of a rig are of a kind of the catalogue; few are far from any."""
    rig = rigs_for({"connector": "7-way", "brakes": "electric"})[0].rig
    found = faults_of(rig)
    weight = sum(each.weight for each in found)
    named = sum(each.weight for each in found if kinds_of(each))
    exact = sum(each.weight for each in found if any(is_exact(each, k) for k in kinds_of(each)))

    assert named / weight > 0.95
    assert exact / weight > 0.5
