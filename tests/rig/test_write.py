"""Job files written back: whole, and one value at a time."""

import re
import tomllib
from typing import Any

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st
from tests.rig.jobs import JOBS
from tests.rig.test_lines import places

from loomwright import examples
from loomwright.changes.changeable import changeables
from loomwright.invalid import InvalidInput
from loomwright.rig.edit import write_value
from loomwright.rig.job import Job
from loomwright.rig.lines import value_spans
from loomwright.rig.places import path_text, read_path
from loomwright.rig.read import read_job, read_rig
from loomwright.rig.write import FIRST_LINE, job_values, write_job

TEXTS = {name: examples.text(name) for name in examples.names()}


@given(JOBS)
def test_a_job_read_back_from_its_file_is_the_job(data: dict[str, Any]) -> None:
    job = Job.model_validate(data)
    text = write_job(job)

    assert tomllib.loads(text) == job_values(job) == data
    assert Job.model_validate(tomllib.loads(text)) == job


@pytest.mark.parametrize("name", examples.names())
def test_an_example_written_anew_says_the_same(name: str) -> None:
    job = read_job(TEXTS[name])
    text = write_job(job)

    assert read_job(text) == job
    assert tomllib.loads(text) == tomllib.loads(TEXTS[name])
    assert read_rig(text) == read_rig(TEXTS[name])
    assert text.startswith(FIRST_LINE + "\n")


def test_a_job_has_its_tables_under_headers_and_its_wires_on_one_line() -> None:
    lines = write_job(read_job(TEXTS["horse-trailer-van"])).splitlines()

    assert {"[vehicle.supply]", "[[vehicle.feed]]", "[socket.lead]", "[[socket.leg]]"} <= set(lines)
    assert 'brake = { size = "12 AWG" }' in lines


EDITS: list[tuple[str, Any, str]] = [
    ("rig.customer", "Somebody else", 'customer = "Somebody else"'),
    ("socket[1].lead.battery.size", "10 AWG", 'battery = { size = "10 AWG" }'),
    ("trailer.lamp[4].sides", ["left"], 'sides = ["left"]'),
    ("vehicle.feed[7].new", False, "new = false"),
    ("vehicle.ground", {"size": "6 AWG"}, 'ground = { size = "6 AWG" }'),
    ("vehicle.brake_controller.lever_lights_stop_lamps", True, "lever_lights_stop_lamps = true"),
    ("trailer.appliance[1]", {"power": "90 W"}, "[[trailer.appliance]]"),
    ("adapter.plug", "4-flat", "[adapter]"),
]


@pytest.mark.parametrize(("path", "value", "line"), EDITS)
def test_one_value_is_written_and_every_other_line_stays(path: str, value: Any, line: str) -> None:
    before = TEXTS["horse-trailer-van"]
    after = write_value(before, path, value)

    assert line in after.splitlines()
    kept = [row for row in before.splitlines() if row in after.splitlines()]
    assert len(before.splitlines()) - len(kept) <= 1
    assert [row for row in after.splitlines() if row.startswith("#")] == [
        row for row in before.splitlines() if row.startswith("#")
    ]


def test_a_new_lamp_stands_behind_the_last_with_an_empty_line_on_both_sides() -> None:
    text = TEXTS["horse-trailer-van"]
    count = len(tomllib.loads(text)["trailer"]["lamp"])
    lamp = {"name": "step light", "back": "20 ft", "lights": {"tail": "194"}}

    after = write_value(text, f"trailer.lamp[{count + 1}]", lamp)

    assert tomllib.loads(after)["trailer"]["lamp"][count] == lamp
    assert '\n\n[[trailer.lamp]]\nname = "step light"\n' in after
    assert 'lights = { tail = "194" }\n\n[[trailer.brake]]' in after


def test_an_entry_taken_out_is_gone_and_one_never_there_is_no_matter() -> None:
    text = TEXTS["second-socket-flatbed"]

    assert "towing" not in tomllib.loads(write_value(text, "rig.towing", None))["rig"]
    assert write_value(text, "rig.shoe_size", None) == text
    assert write_value(text, "converter.name", None) == text
    assert len(tomllib.loads(write_value(text, "socket[2]", None))["socket"]) == 1


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("trailer.lamp[99]", {"lights": {"tail": "194"}}),
        ("trailer.lamp[99].name", "x"),
        ("trailer.lamp[99]", None),
        ("rig.name.first", "x"),
        ("rig[1]", "x"),
        ("socket.name", "x"),
        ("socket[1]", "x"),
    ],
)
def test_a_path_that_leads_nowhere_is_refused(path: str, value: Any) -> None:
    with pytest.raises(InvalidInput, match="path is "):
        write_value(TEXTS["horse-trailer-van"], path, value)


def test_a_file_that_is_no_toml_is_not_touched() -> None:
    with pytest.raises(ExceptionGroup, match="1 value to mend"):
        write_value("a = ", "rig.name", "x")


OTHER_VALUES = ("plain", 'a "quoted" \\ name', "Grün # no comment", 7, False)


@pytest.mark.parametrize("name", examples.names())
def test_a_value_behind_a_key_is_written_as_tomlkit_writes_it(name: str) -> None:
    """Tomlkit takes the whole text apart and keeps comments and order by itself."""
    fields = [place for place in value_spans(TEXTS[name]) if isinstance(place[-1], str)]
    chosen = list(zip(fields[:: max(1, len(fields) // 15)], OTHER_VALUES * 4, strict=False))
    document, written = tomlkit.parse(TEXTS[name]), TEXTS[name]
    for place, value in chosen:
        written = write_value(written, path_text(place), value)
        holder: Any = document
        for step in place[:-1]:
            holder = holder[step]
        holder[place[-1]] = value

    assert len(chosen) >= 15
    assert written == tomlkit.dumps(document)


@pytest.mark.parametrize("name", examples.names())
def test_a_key_that_is_missing_is_put_where_tomlkit_puts_it(name: str) -> None:
    """The same lines, but for the space inside braces, which stands in all that is written here."""
    rig, job = read_rig(TEXTS[name]), read_job(TEXTS[name])
    there = value_spans(TEXTS[name])
    paths = [each.path for each in changeables(rig, job, TEXTS[name])]
    missing = [path for path in paths if read_path(path) not in there][::4]
    document, written = tomlkit.parse(TEXTS[name]), TEXTS[name]
    for path in missing:
        written = write_value(written, path, "2 ft")
        *way, last = read_path(path)
        holder: Any = document
        for step in way:
            if isinstance(step, str) and step not in holder:
                holder[step] = tomlkit.inline_table()
            holder = holder[step]
        holder[last] = "2 ft"

    def lines(text: str) -> list[str]:
        return re.sub(" *([{}]) *", r"\1", text).splitlines()

    assert len(missing) >= 10
    assert lines(written) == lines(tomlkit.dumps(document))


@given(st.data())
def test_any_value_can_be_changed_or_taken_out_and_no_other_changes(data: st.DataObject) -> None:
    """The law is read by tomllib, which knows nothing of how the file was edited."""
    text = TEXTS[data.draw(st.sampled_from(examples.names()))]
    values = tomllib.loads(text)
    place = data.draw(st.sampled_from(list(places(values))))
    value = data.draw(st.one_of(st.none(), st.text(max_size=9), st.integers(0, 9), st.booleans()))
    holder: Any = values
    for step in place[:-1]:
        holder = holder[step]
    if isinstance(holder[place[-1]], dict) and isinstance(place[-1], int):
        value = None
    if value is None:
        del holder[place[-1]]
    else:
        holder[place[-1]] = value

    assert tomllib.loads(write_value(text, path_text(place), value)) == values
