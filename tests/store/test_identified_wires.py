"""Wires that were identified, kept as a wire map: offered like any other, with their proof."""

import pytest
from tests.store.jobs import SMALL

from loomwright.identify.identification import KeptWire
from loomwright.invalid import InvalidInput
from loomwright.store.identified_wires import keep_identified_wires
from loomwright.store.store import Store

WIRES = (
    KeptWire("ground", "white", "16 AWG", "wire 1", "0.3 ohm, ohms to battery negative"),
    KeptWire("tail", "", "", "wire 2", "12.3 V under park lamps (meter)"),
)


def test_identified_wires_are_offered_as_a_wire_map(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Ines")

    kept = keep_identified_wires(store.access, rig.id, WIRES, "Ines", notes="rear bumper")

    (found,) = store.wire_maps.wire_maps_for(rig.vehicle)
    assert found.id == kept
    assert found.notes == "rear bumper"
    assert [(w.function, w.colour, w.size, w.verified_how) for w in found.wires] == [
        ("ground", "white", "16 AWG", "0.3 ohm, ohms to battery negative"),
        ("tail", "", "", "12.3 V under park lamps (meter)"),
    ]
    assert found.wires[0].verified_by == "Ines"


def test_nothing_proved_or_no_such_rig_keeps_nothing(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Ines")

    with pytest.raises(InvalidInput, match="identify one wire"):
        keep_identified_wires(store.access, rig.id, (), "Ines")
    with pytest.raises(InvalidInput, match="rig"):
        keep_identified_wires(store.access, "0" * 32, WIRES, "Ines")
    assert store.wire_maps.wire_maps() == ()
