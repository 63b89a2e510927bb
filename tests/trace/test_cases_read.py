"""Reading files of cases: everything in the vocabulary, and nothing that makes it fall over."""

from __future__ import annotations

import tomllib

import pytest

from loomwright.invalid import InvalidInput
from loomwright.trace.cases_measured import measured
from loomwright.trace.cases_read import Seen, read_cases
from loomwright.trace.cases_rig import answers_of
from loomwright.trace.cases_words import Spot, read_command, read_spot, read_state

HEAD = 'schema = "trailer-diagnostic-cases/1"\n'
CASE = """
[[case]]
id = "A1"
title = "left side dark"
rig = { connector = "4-flat", lamps = "led", brakes = "none" }
observations = [
  { cmd = "left", at = "trailer.st.L", state = "off", note = "since spring" },
  { cmd = "tail+brake", at = "trailer.lamps", state = "dim" },
  { cmd = "moonlight", at = "trailer.st.L", state = "off" },
  { cmd = "left", at = "spaceship", state = "off" },
  { cmd = "left", at = "trailer.st.L", state = "purple" },
]
measurements = [
  { where = "left magnet", cmd = "rest", value = 1e9, unit = "ohm" },
  { where = "somewhere", cmd = "rest", value = 3.0, unit = "parsec" },
]
cause = { place = "trailer.harness", form = "open", circuit = "left" }
expected_faults = ["F56"]
also_accept = ["F63"]
"""


def test_a_case_is_read_whole_and_unknown_words_are_told() -> None:
    (case,) = read_cases(tomllib.loads(HEAD + CASE))

    assert case.seen == (
        Seen("left", Spot("lamp", "signal", "L"), "off", "since spring"),
        Seen("park+brake_pedal", Spot("lamp", "all"), "dim"),
        Seen("brake_lever", Spot("brakes", "one", "L"), "off", "measured 1e+09 ohm"),
    )
    assert (case.place, case.form, case.expected, case.accepted) == (
        "trailer.harness",
        "open",
        ("F56",),
        ("F63",),
    )
    assert len(case.skipped) == 4
    assert any("moonlight" in told for told in case.skipped)


@pytest.mark.parametrize(
    "text",
    ["", 'schema = "something else"\n', HEAD, HEAD + "case = 3\n", HEAD + "case = []\n"],
)
def test_a_file_of_something_else_is_refused(text: str) -> None:
    with pytest.raises(ExceptionGroup) as refused:
        read_cases(tomllib.loads(text), "x.toml")
    assert all(isinstance(each, InvalidInput) for each in refused.value.exceptions)


@pytest.mark.parametrize(
    "broken",
    [
        "[[case]]\n",
        "[[case]]\nobservations = 3\n",
        '[[case]]\nobservations = [3, "x", {}]\nmeasurements = [{ value = true }]\n',
        '[[case]]\nrig = "a truck"\ncause = 3\nexpected_faults = "F01"\n',
    ],
)
def test_a_half_written_case_is_read_as_far_as_it_goes(broken: str) -> None:
    (case,) = read_cases(tomllib.loads(HEAD + broken))

    assert case.seen == ()


@pytest.mark.parametrize(
    ("text", "spot"),
    [
        ("trailer.st.R", Spot("lamp", "signal", "R")),
        ("trailer.tail.all", Spot("lamp", "tail")),
        ("trailer.side.all", Spot("lamp", "tail")),
        ("trailer.lamps", Spot("lamp", "all")),
        ("truck.turn.R", Spot("truck lamp", "signal", "R")),
        ("truck.fuse.tail", Spot("fuse", "tail")),
        ("truck.wire.ground", Spot("wire", "truck")),
        ("truck.dash", Spot("truck lamp", "other")),
        ("socket.st.R", Spot("socket", "signal", "R")),
        ("socket.charge", Spot("socket", "charge")),
        ("cord.brake", Spot("cord", "brake")),
        ("other_vehicle.trailer.lamps", Spot("lamp", "all", where="other vehicle")),
        ("other_vehicle", Spot("everything", where="other vehicle")),
        ("bench.trailer.lamps", Spot("lamp", "all", where="bench")),
        ("brakes.axle2", Spot("brakes", "axle2")),
        ("brakes.one", Spot("brakes", "one")),
        ("wheel.L", Spot("brakes", "one", "L")),
        ("hub.L", Spot("hub", side="L")),
        ("tyres.axle1", Spot("brakes", "tyres")),
        ("trailer.breakaway", Spot("trailer part", "breakaway")),
        ("controller", Spot("controller")),
        ("cluster", Spot("cluster")),
        ("nonsense.of.sorts", None),
        ("", None),
        ("...", None),
    ],
)
def test_places_of_the_vocabulary(text: str, spot: Spot | None) -> None:
    assert read_spot(text) == spot


def test_commands_are_joined_in_one_order() -> None:
    assert read_command("left+tail") == read_command("tail+left") == "park+left"
    assert read_command("manual") == "brake_lever"
    assert read_command("tail+moon") is None
    assert read_state("No trailer") == "no_trailer"
    assert read_state("mauve") is None


@pytest.mark.parametrize(
    ("where", "value", "unit", "said"),
    [
        ("curb side magnet wiring", 1e9, "ohm", (Spot("brakes", "one", "R"), "off")),
        ("brake pair at the plug", 0.1, "ohm", (Spot("controller"), "overload")),
        ("trailer battery", 10.2, "V", (Spot("trailer part", "battery"), "flat")),
        ("trailer battery", 2.0, "A", (Spot("charge"), "weak")),
        ("left pin of the socket", 0.2, "V", (Spot("socket", "signal", "L"), "off")),
        ("the moon", 5.0, "V", None),
    ],
)
def test_measurements_come_to_a_word(
    where: str, value: float, unit: str, said: tuple[Spot, str] | None
) -> None:
    """A lead-acid battery at rest below 11.8 V is flat: open-circuit tables of battery makers."""
    assert measured(where, value, unit) == said


@pytest.mark.parametrize(
    ("rig", "answers"),
    [
        ('{ connector = "7-way", brakes = "electric, tandem, 4 magnets" }', {"magnets": "4"}),
        ('{ brakes = "electric, 3 magnets" }', {"magnets": "4"}),
        ('{ brakes = "electric, 9 magnets" }', {"magnets": "6"}),
        ('{ connector = "7-pin flat or round" }', {"connector": "7-flat"}),
        ('{ connector = "13-pin" }', {"connector": "13-pin"}),
        ('{ lamps = "LED" }', {"lamps": "led"}),
        ('{ brakes = "electric-hydraulic actuator" }', {"brakes": "electric-over-hydraulic"}),
        ('{ vehicle = "car with plug-in converter" }', {"converter": "yes"}),
        ('{ lamps = "unknown", brakes = "unknown" }', {}),
    ],
)
def test_the_rig_of_a_case_answers_the_questions_of_typical_rigs(
    rig: str, answers: dict[str, str]
) -> None:
    (case,) = read_cases(tomllib.loads(f'{HEAD}[[case]]\nid = "A"\nrig = {rig}\n'))

    assert answers_of(case).items() >= answers.items()
    assert answers or not answers_of(case)
