"""What a person reads when a job file cannot be used: everything at once, each at its line."""

import pytest
from tests.rig.reading import SMALLEST, refused

from loomwright import examples
from loomwright.colours import AmbiguousColour
from loomwright.invalid import InvalidInput
from loomwright.rig.read import read_job, read_rig

SPOILT = """\
[rig]
colour = "red"
date = "2026-13-01"

[vehicle]
voltage = 12
vin = "1A9BE2O24NM123456"
signal = "combined"

[[vehicle.feed]]
function = "tial"
size = "14"
colour = "GR"
fuse = "15 A huge"
lamps = ["R5W", "1157 single", "1O57"]

[[vehicle.feed]]
new = "yes"

[[socket]]
connector = "7-blad"
lead = { colors = "7-blade", size = "15 mm2", brake = "12 AWG" }

[[socket.leg]]
name = "to the bumper"
length = "0 ft"

[trailer]
axles = 2.5

[[trailer.lamp]]
sides = []
lights = { tail = "LED 3", stop = "LED 0.3 A odd", head = "194" }

[[trailer.lamp]]
lights = { tail = "194" }
counts_as = ["tail_lamp", "tail"]

[trailer.run]
sise = "14 AWG"
"""

EXPECTED = {
    "rig.colour": (2, "no known key; [rig] takes name"),
    "rig.date": (3, "such as 2026-05-14"),
    "vehicle.voltage": (6, 'text in quotes, such as "12 V"'),
    "vehicle.vin": (7, "without I, O and Q"),
    "vehicle.signal": (8, "did you mean signals?"),
    "vehicle.feed[1].function": (11, "did you mean tail?"),
    "vehicle.feed[1].size": (12, "14 AWG, 14 SAE"),
    "vehicle.feed[1].colour": (13, "write the colour in words"),
    "vehicle.feed[1].fuse": (14, "medium"),
    "vehicle.feed[1].lamps[2]": (15, "major or minor"),
    "vehicle.feed[1].lamps[3]": (15, "1157"),
    "vehicle.feed[2].function": (17, "is missing"),
    "vehicle.feed[2].new": (18, "true or false"),
    "socket[1].connector": (21, "did you mean 7-blade"),
    "socket[1].lead.colors": (22, "did you mean colours?"),
    "socket[1].lead.size": (22, "13 and 16 mm²"),
    "socket[1].lead.brake": (22, '{ size = "12 AWG" }'),
    "socket[1].leg[1].length": (26, "above 0"),
    "trailer.axles": (29, "a whole number"),
    "trailer.lamp[1].sides": (32, "at least one entry"),
    "trailer.lamp[1].lights.tail": (33, "LED 0.3 A"),
    "trailer.lamp[1].lights.stop": (33, "constant-current"),
    "trailer.lamp[1].lights.head": (33, "no known function"),
    "trailer.lamp[2].counts_as[2]": (37, "did you mean tail_lamp?"),
    "trailer.run.sise": (40, "did you mean size?"),
}


def test_every_problem_is_told_at_once() -> None:
    """Lines counted by eye in the text above."""
    assert set(refused(SPOILT)) == set(EXPECTED)


@pytest.mark.parametrize("path", EXPECTED)
def test_each_problem_has_its_line_and_its_mend(path: str) -> None:
    problem = refused(SPOILT)[path]
    line, fix = EXPECTED[path]

    assert (problem.file, problem.line) == ("job.toml", line)
    assert fix in problem.fix
    assert str(problem).startswith(f"job.toml:{line}: {path} is ")


def test_problems_come_in_the_order_of_the_file() -> None:
    lines = [problem.line or 0 for problem in refused(SPOILT).values()]

    assert lines == sorted(lines)


def test_an_ambiguous_colour_keeps_its_candidates_for_the_one_who_asks() -> None:
    problem = refused(SPOILT)["vehicle.feed[1].colour"]

    assert isinstance(problem, AmbiguousColour)
    assert {colour.base for colour, _ in problem.candidates} == {"grey", "green"}


def test_a_legend_settles_an_ambiguous_colour() -> None:
    text = SMALLEST + '[vehicle]\nlegend = "us-1982"\n[[vehicle.feed]]\nfunction = "tail"\n'

    rig = read_rig(text + 'colour = "GR"\n')

    colour = rig.vehicle.feeds[0].wire.colour
    assert colour is not None
    assert colour.base == "green"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("[rig]\nname = ", 2),
        ('[rig]\nname = "x\n', 2),
        ("x = 1\n\nx = 2\n", 3),
        ("[[[[", 1),
        ("a = [\n1,\n2\n", 4),
        ("n = " + "9" * 5000, 1),
        ("n = " + "[" * 5000, 1),
    ],
    ids=["no value", "open text", "twice", "brackets", "open list", "huge number", "deep"],
)
def test_a_text_that_is_no_toml_names_the_line(text: str, line: int) -> None:
    (problem,) = refused(text).values()

    assert problem.line == line
    assert problem.field == f"line {line}"
    assert "not TOML" in problem.fix
    assert len(str(problem)) < 300


@pytest.mark.parametrize(
    ("line", "mend"),
    [
        ('name = "x', "close the text with a second"),
        ("length = 19 ft", 'put text in quotes, such as "19 ft"'),
        ('length "19 ft"', "write it as key = value"),
        ("length = ft", "text stands in quotes"),
        ("[rig", "close the name of the table"),
        ("wires = [1, 2", "close the list with ]"),
        ('say = "a\\c"', "write the backslash twice"),
        ("[vehicle]\n[vehicle]", "keep one table of this name"),
        ("a = 1\na = 2", "keep one of the two entries"),
    ],
)
def test_a_slip_of_the_pen_gets_its_own_mend(line: str, mend: str) -> None:
    (problem,) = refused(f"{line}\n").values()

    assert mend in problem.fix


def test_the_smallest_job_is_a_socket_and_a_trailer() -> None:
    rig = read_rig(SMALLEST)

    assert rig.towing_socket.connector == rig.trailer.plug == "4-flat"
    assert list(refused("")) == ["socket", "trailer"]


@pytest.mark.parametrize("start", ["\ufeff", "\n\n", "# a comment\r\n"])
def test_marks_and_line_ends_of_other_editors_do_no_harm(start: str) -> None:
    assert read_job(start + SMALLEST) == read_job(SMALLEST)


AGREEMENT = """\
[rig]
towing = "bed 7 way"

[converter]
kind = "combine"

[[vehicle.feed]]
function = "tail"

[[vehicle.feed]]
function = "tail"

[[socket]]
name = "rear 7-way"
connector = "7-blade"
joins = "bed 7-way"

[[socket]]
name = "bed 7-way"
connector = "7-blade"
joins = "rear"

[[socket]]
name = "rear 7-way"
connector = "7-blade"

[[socket]]
name = "converter"
connector = "7-blade"

[trailer]
axles = 1

[[trailer.lamp]]
name = "rear"
side = "left"
sides = ["left", "right"]
lights = { tail = "194" }

[[trailer.lamp]]
name = "left rear"
lights = { tail = "194" }

[[trailer.brake]]
axle = 1

[[trailer.brake]]
axle = 1

[[trailer.brake]]
axle = 2
"""


def test_entries_that_do_not_go_together_are_told_at_once() -> None:
    found = {path: problem.line for path, problem in refused(AGREEMENT).items()}

    assert found == {
        "rig.towing": 2,
        "vehicle.feed[2].function": 11,
        "socket[1].joins": 16,
        "socket[2].joins": 21,
        "socket[3].name": 24,
        "socket[4].name": 28,
        "trailer.lamp[1].sides": 37,
        "trailer.lamp[2].name": 41,
        "trailer.brake[2].axle": 48,
        "trailer.brake[3].axle": 51,
    }


def test_a_socket_cannot_join_a_converter_that_is_not_there() -> None:
    problem = refused(SMALLEST.replace("[trailer]", 'joins = "converter"\n[trailer]'))

    assert "[converter]" in problem["socket[1].joins"].fix


def test_a_bulb_of_the_other_voltage_is_refused_where_it_stands() -> None:
    """P21/5W is made for 12 V and 24 V, trade number 1157 for 12 V only: SAE J573, UN R37."""
    text = SMALLEST + 'voltage = "24 V"\n[[trailer.lamp]]\nlights = { tail = "1157 minor" }\n'

    problem = refused(text)["trailer.lamp[1].lights.tail"]

    assert problem.line == 7
    assert "12 V" in problem.fix
    assert read_rig(text.replace("1157", "P21/5W")).trailer.lamps[0].lights[0].function == "tail"


def test_what_does_not_go_together_is_told_beside_what_cannot_be_read() -> None:
    text = SMALLEST + 'width = "wide"\njunction = "sealed-butt"\n[rig]\ntowing = "no such socket"\n'

    assert set(refused(text)) == {"trailer.width", "rig.towing"}


def test_a_conductor_for_a_function_the_connector_lacks_is_refused() -> None:
    """A four-way flat has ground, tail and the two signals. Source: SAE J1239."""
    text = SMALLEST + '[trailer.cord]\nbrake = { size = "12 AWG" }\n'

    problem = refused(text)["trailer.cord.brake"]

    assert problem.line == 6
    assert "left_stop_turn" in problem.fix


def test_a_job_of_no_name_speaks_of_the_job_file() -> None:
    with pytest.raises(ExceptionGroup, match="job file: 2 values to mend") as caught:
        read_job("")

    assert all(isinstance(each, InvalidInput) for each in caught.value.exceptions)


@pytest.mark.parametrize("name", examples.names())
def test_every_example_makes_a_rig(name: str) -> None:
    rig = read_rig(examples.text(name), f"{name}.toml")

    assert rig.towing_socket in rig.sockets
    assert rig.trailer.lamps
