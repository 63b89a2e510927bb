"""Wire maps: what was proved on one vehicle, offered for the next like it."""

import pytest
from tests.store.conftest import Clock
from tests.store.jobs import DRAFT, SMALL

from loomwright.colours import read_colour
from loomwright.invalid import InvalidInput
from loomwright.rig.edit import write_value
from loomwright.rig.read import read_rig
from loomwright.store.store import Store


def test_the_wires_of_a_rig_are_kept_with_their_proof(store: Store, clock: Clock) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    clock.wind(days=1)

    kept = store.wire_maps.keep_wire_map(rig.id, "test light at the plug", "Ola", notes="tight")

    assert (kept.vehicle, kept.fits, kept.notes) == ("Quillon 150 pickup",) * 2 + ("tight",)
    assert (kept.rig_id, kept.kept_by, kept.kept_at) == (rig.id, "Ola", clock.time)
    tail, signal = kept.wires
    assert (tail.function, tail.colour, tail.size) == ("tail", "brown with white stripe", "16 SAE")
    assert tail.found == "left rear harness"
    assert (tail.verified_how, tail.verified_by) == ("test light at the plug", "Ola")
    assert tail.verified_at == clock.time
    assert (signal.colour, signal.size, signal.found) == ("yellow", "", "")


def test_only_what_was_proved_is_kept(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")

    kept = store.wire_maps.keep_wire_map(rig.id, {"left_stop_turn": "meter, 12.4 V"}, "Kim")

    assert [(each.function, each.verified_how) for each in kept.wires] == [
        ("left_stop_turn", "meter, 12.4 V")
    ]


@pytest.mark.parametrize("how", [{}, {"reverse": "meter"}, {"tail": " "}, ""])
def test_a_proof_of_no_wire_and_a_wire_of_no_proof_are_refused(
    store: Store, how: "str | dict[str, str]"
) -> None:
    rig = store.rigs.create(SMALL, "Kim")

    with pytest.raises(InvalidInput, match="how"):
        store.wire_maps.keep_wire_map(rig.id, how, "Kim")

    assert store.wire_maps.wire_maps() == ()


def test_a_draft_that_cannot_be_used_proves_nothing(store: Store) -> None:
    rig = store.rigs.create(DRAFT, "Kim")

    with pytest.raises(ExceptionGroup, match="to mend"):
        store.wire_maps.keep_wire_map(rig.id, "meter", "Kim")


@pytest.mark.parametrize(
    ("fits", "vehicle", "offered"),
    [
        ("", "quillon 150  PICKUP", True),
        ("", "Quillon 150 pickup 2019", False),
        ("Quillon 150*", "Quillon 150 pickup 2019", True),
        ("Quillon 150*", "Old Quillon 150", False),
        ("*150*", "Old Quillon 150", True),
        ("Quillon * pickup", "Quillon pickup", False),
        ("Quillon*pickup", "Quillon pickup", True),
        ("a*a", "a", False),
        ("Quillon [150]?", "Quillon [150]?", True),
        ("Quillon [150]?", "Quillon 1x", False),
        ("*", "anything", True),
    ],
)
def test_a_map_is_offered_for_the_vehicles_it_fits(
    store: Store, fits: str, vehicle: str, offered: bool
) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    kept = store.wire_maps.keep_wire_map(rig.id, "meter", "Kim", fits=fits)

    assert store.wire_maps.wire_maps_for(vehicle) == ((kept,) if offered else ())


def test_maps_are_found_by_words_the_newest_first(store: Store, clock: Clock) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    old = store.wire_maps.keep_wire_map(rig.id, "meter", "Kim", notes="behind the left lamp")
    clock.wind(hours=1)
    new = store.wire_maps.keep_wire_map(rig.id, "test light", "Kim")

    assert store.wire_maps.wire_maps() == (new, old)
    assert store.wire_maps.wire_maps("QUILLON pickup") == (new, old)
    assert store.wire_maps.wire_maps("lamp left") == (old,)
    assert store.wire_maps.wire_maps("lamp 100%") == ()


def test_a_map_found_wrong_is_offered_no_more(store: Store) -> None:
    rig = store.rigs.create(SMALL, "Kim")
    kept = store.wire_maps.keep_wire_map(rig.id, "meter", "Kim")

    store.wire_maps.retire_wire_map(kept.id, "Ola")
    store.wire_maps.retire_wire_map(kept.id, "Ola")

    assert store.wire_maps.wire_maps() == ()
    assert store.wire_maps.wire_maps_for("Quillon 150 pickup") == ()
    assert [
        (each.payload["what"], each.who) for each in store.events.events_since(0, "wire-map")
    ] == [
        ("kept", "Kim"),
        ("retired", "Ola"),
    ]
    for unknown in ("00" * 16, "a\0b", "a\ud800b"):
        with pytest.raises(InvalidInput, match="choose a wire map"):
            store.wire_maps.retire_wire_map(unknown, "Kim")


def test_a_map_goes_into_the_next_job_whatever_its_legend(store: Store) -> None:
    """Codes mean other colours in other manuals (TN is tan here, tan and natural there)."""
    tan = SMALL.replace('colour = "YE"', 'colour = "TN"')
    rig = store.rigs.create(tan, "Kim")
    feeds = store.wire_maps.keep_wire_map(rig.id, "meter", "Kim").wires
    next_job = SMALL.replace('name = "Quillon 150 pickup"', 'legend = "us-1982"')

    for number, wire in enumerate(feeds, start=1):
        next_job = write_value(next_job, f"vehicle.feed[{number}]", dict(wire.as_feed()))

    was, becomes = read_rig(tan).vehicle.feeds, read_rig(next_job).vehicle.feeds
    assert [each.wire.colour for each in becomes] == [each.wire.colour for each in was]
    assert read_colour("TN", legend="us-1982") != was[1].wire.colour
