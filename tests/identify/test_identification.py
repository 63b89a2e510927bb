"""The answer in words: kept wires, what stays open, doubts; simulated vehicles; bad input."""

import json

import pytest
from benchmarks.identify import guided, plain
from tests.identify.bundles import small_bundle

from loomwright.colours import read_colour
from loomwright.identify.behaviour import Feeding
from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.identification import identify
from loomwright.identify.plain import (
    bundle_from_plain,
    bundle_to_plain,
    reading_to_plain,
    readings_from_plain,
)
from loomwright.identify.reading import Reading, readings_of
from loomwright.identify.seen import Seen
from loomwright.identify.seen import Tester as With
from loomwright.invalid import InvalidInput


def read(bundle: Bundle, *said: tuple[str, str, str | float]) -> tuple[Reading, ...]:
    return tuple(
        each
        for held, wire, shown in said
        for each in readings_of(bundle, held, wire, "meter", shown)
    )


def problems_of(error: pytest.ExceptionInfo[ExceptionGroup]) -> dict[str, InvalidInput]:
    return {each.field: each for each in error.value.exceptions if isinstance(each, InvalidInput)}


def test_proved_wires_are_ready_for_a_wire_map_with_how_they_were_proved() -> None:
    bundle = small_bundle(wires=(Wire("1", read_colour("white"), "16 AWG"), Wire("2"), Wire("3")))
    readings = read(
        bundle,
        *(("rest", "1", 0.0), ("ohms", "1", 0.3), ("drop", "1", 0.04)),
        *(("rest", "2", 0.0), ("park", "2", 12.3), ("park", "2", 12.4)),
        *(("rest", "3", 12.6), ("rest", "3", 12.6)),
    )

    found = identify(bundle, readings)

    assert found.is_settled
    assert found.question is None
    assert [each.function for each in found.kept_wires] == ["ground", "tail", "battery"]
    assert (found.kept_wires[0].colour, found.kept_wires[0].size) == ("white", "16 AWG")
    assert "0.04 V, drop as a ground" in found.kept_wires[0].how
    assert "12.3 V under park lamps" in found.kept_wires[1].how


def test_left_and_right_tail_lamps_cannot_be_told_apart_and_that_is_said() -> None:
    bundle = Bundle((Wire("5"),), ("tail_left", "tail_right", "stop"), feeding=Feeding.SHARED)
    readings = read(bundle, ("park", "5", 12.2), ("park", "5", 12.2), ("brake_pedal", "5", 0.0))

    found = identify(bundle, readings)

    assert found.wires[0].is_settled
    assert found.wires[0].function is None
    assert any("Pull the fuse" in each for each in found.left_open)


def test_a_charge_line_that_waits_is_never_called_dead() -> None:
    bundle = Bundle((Wire("4"),), ("charge", "battery"), feeding=Feeding.SHARED)
    readings = read(bundle, *((held, "4", 0.0) for held in ("rest", "key_on", "charge") * 3))

    found = identify(bundle, (*readings, *read(bundle, ("ohms", "4", 800.0))))

    assert not found.wires[0].is_settled or found.question is not None
    assert any("held off until its conditions" in each for each in found.left_open)


def test_a_wrong_reading_is_named() -> None:
    bundle = small_bundle(feeding=Feeding.SHARED)
    readings = read(
        bundle,
        *(("park", "2", 12.3), ("park", "2", 12.4), ("park", "2", 0.0), ("park", "2", 12.3)),
        *(("rest", "2", 0.0), ("hazard", "2", 0.0)),
    )

    doubted = identify(bundle, readings).doubts

    assert [each.place for each in doubted] == [2]


def test_an_answer_may_say_two_readings_at_once() -> None:
    bundle = small_bundle()

    found = readings_of(bundle, "rest", "1", "led", "Live with ignition")

    assert [(each.command, each.seen) for each in found] == [
        ("rest", Seen.NOTHING),
        ("key_on", Seen.STEADY),
    ]


def test_volts_are_brought_to_words_at_the_edges_of_a_twelve_volt_vehicle() -> None:
    """A 21 W lamp is out under about 1 V and bright near battery volts; common practice."""
    bundle = small_bundle()
    seen = [read(bundle, ("park", "1", v))[0].seen for v in (0.0, 0.5, 6.0, 11.5, 13.8)]

    assert seen == [Seen.NOTHING, Seen.NOTHING, Seen.PARTIAL, Seen.STEADY, Seen.STEADY]
    assert read(small_bundle(nominal_v=24.0), ("park", "1", 11.5))[0].seen is Seen.PARTIAL


def test_plain_values_come_back_as_they_went() -> None:
    bundle = small_bundle(
        wires=(Wire("1", read_colour("brown/white"), "18 AWG"), Wire("2"), Wire("3")),
        feeding=Feeding.MODULE,
    )
    readings = read(bundle, ("park", "1", 6.4), ("hazard", "2", "flashing"))

    plain_ones = json.loads(
        json.dumps([bundle_to_plain(bundle), [reading_to_plain(each) for each in readings]])
    )

    assert bundle_from_plain(plain_ones[0]) == bundle
    assert readings_from_plain(bundle, plain_ones[1]) == readings


def test_every_bad_field_is_told_at_once() -> None:
    with pytest.raises(ExceptionGroup) as error:
        bundle_from_plain(
            {
                "wires": [{"key": "1", "colour": "mauvish"}, {"key": 2}],
                "functions": ["tail"],
                "signalling": "both",
                "wrong_rate": "few",
                "lamps": True,
            }
        )

    assert set(problems_of(error)) == {
        "bundle.wires[0].colour",
        "bundle.wires[1].key",
        "bundle.signalling",
        "bundle.wrong_rate",
        "bundle.lamps",
    }


def test_bad_readings_name_their_place() -> None:
    bundle = small_bundle()
    with pytest.raises(ExceptionGroup) as error:
        readings_from_plain(
            bundle,
            [
                {"command": "park", "wire": "9", "seen": "steady"},
                {"command": "park", "wire": "1", "value": 240},
                {"command": "drive", "wire": "1", "seen": "steady"},
                {"command": "ohms", "wire": "1", "seen": "flashing"},
            ],
        )

    assert set(problems_of(error)) == {
        "readings[0].wire",
        "readings[1].value",
        "readings[2].command",
        "readings[3].seen",
    }


def test_a_bundle_names_what_is_wrong_with_it() -> None:
    with pytest.raises(ExceptionGroup) as error:
        Bundle((Wire("1"), Wire("1")), ("tail", "horn"), wrong_rate=0.0, nominal_v=6.0)

    assert set(problems_of(error)) == {"wires[1].key", "functions[1]", "wrong_rate", "nominal_v"}


@pytest.mark.slow
def test_of_simulated_wires_said_95_percent_sure_at_least_95_percent_are_right() -> None:
    """Vehicles drawn by other rules than the model's, one reading in twenty wrong; seeded."""
    trials = [guided(seed, 0.05, "four-way") for seed in range(30)]
    beside = [plain(seed, 0.05, "four-way") for seed in range(30)]
    said = [right for each in trials for p, right in each.said if p >= 0.95]

    assert len(said) > 100
    assert sum(said) >= 0.95 * len(said)
    assert sum(each.probes for each in trials) < 0.6 * sum(each.probes for each in beside)


def test_testers_are_told_apart() -> None:
    """An LED tester reads no number; a word of it stays its word."""
    bundle = small_bundle()

    assert readings_of(bundle, "park", "1", "led", "dim")[0].tester is With.LED
    with pytest.raises(ExceptionGroup):
        readings_of(bundle, "park", "1", "led", 12.0)
