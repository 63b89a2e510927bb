"""Damaged files: whatever stands in them, the answer is a list of what to mend, or a rig."""

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
import tomlkit
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.rig.jobs import JOBS
from tests.rig.test_lines import places

from loomwright import examples
from loomwright.invalid import InvalidInput
from loomwright.rig.model import Rig
from loomwright.rig.read import read_rig

TEXTS = [examples.text(name) for name in examples.names()]
SIGNS = st.text(
    st.sampled_from("\"'[]{}=.,#\\\n\t 0123456789abcAWGftV%/\u00e9\u2033\u0000-+"), max_size=6
)
ODD = st.one_of(
    st.text(max_size=12),
    st.integers(),
    st.floats(),
    st.booleans(),
    st.lists(st.text(max_size=3), max_size=2),
    st.dictionaries(st.text(max_size=5), st.text(max_size=5), max_size=2),
    st.sampled_from(
        ["0 ft", "-1 ft", "1e9 m", "99999999999 A", "nan V", "LED", "LED 0 A", "0/0 in"]
    ),
)


def flat(refused: BaseExceptionGroup[InvalidInput]) -> Iterator[InvalidInput]:
    """Every problem of a group, and of groups within it."""
    for each in refused.exceptions:
        if isinstance(each, BaseExceptionGroup):
            yield from flat(each)
        else:
            yield each


def rig_or_mends(text: str) -> Rig | None:
    """Return the rig, or None where the file was refused as it should be."""
    problems: list[InvalidInput] = []
    rig = None
    try:
        rig = read_rig(text, "job.toml")
    except* InvalidInput as refused:
        problems = list(flat(refused))
    assert (rig is None) == bool(problems)
    for problem in problems:
        assert problem.field
        assert problem.fix
        assert problem.file in ("job.toml", None)
        assert problem.line is None or 1 <= problem.line <= text.count("\n") + 1
    return rig


@given(st.sampled_from(TEXTS), st.integers(0, 9000))
def test_a_file_cut_short(text: str, end: int) -> None:
    rig_or_mends(text[:end])


@given(st.sampled_from(TEXTS), st.integers(0, 6000), st.integers(0, 30), SIGNS)
def test_a_file_with_signs_put_in_and_left_out(
    text: str, start: int, gone: int, signs: str
) -> None:
    rig_or_mends(text[:start] + signs + text[start + gone :])


@given(st.sampled_from(TEXTS), st.lists(st.tuples(st.integers(0, 300), st.integers(0, 300))))
def test_a_file_with_lines_moved(text: str, moves: list[tuple[int, int]]) -> None:
    lines = text.splitlines()
    for here, there in moves:
        lines.insert(there % len(lines), lines.pop(here % len(lines)))
    rig_or_mends("\n".join(lines))


@settings(max_examples=150)
@given(st.sampled_from(TEXTS), st.data())
def test_a_file_with_a_value_of_another_kind(text: str, data: st.DataObject) -> None:
    values = tomllib.loads(text)
    for _ in range(data.draw(st.integers(1, 3))):
        place = data.draw(st.sampled_from(list(places(values))))
        holder: Any = values
        for step in place[:-1]:
            holder = holder[step]
        holder[place[-1]] = data.draw(ODD)
    rig_or_mends(tomlkit.dumps(values))


@given(st.sampled_from(TEXTS), st.data())
def test_a_file_with_two_values_swapped(text: str, data: st.DataObject) -> None:
    values = tomllib.loads(text)
    everywhere = [place for place in places(values) if isinstance(place[-1], str)]
    ends = []
    for _ in range(2):
        place = data.draw(st.sampled_from(everywhere))
        holder: Any = values
        for step in place[:-1]:
            holder = holder[step]
        ends.append((holder, place[-1]))
    (one, at), (other, there) = ends
    one[at], other[there] = str(other[there]), str(one[at])
    rig_or_mends(tomlkit.dumps(values))


@given(st.text())
@example("")
@example("\ufeff")
@example("socket = [[]]\ntrailer = {}")
@example('socket = [{connector = "7-blade"}]\ntrailer = {cord = {"" = {}}}')
def test_any_text(text: str) -> None:
    rig_or_mends(text)


@given(JOBS)
def test_any_readable_entries_make_a_rig_or_disagree(data: dict[str, Any]) -> None:
    rig = rig_or_mends(tomlkit.dumps(data))

    if rig is not None:
        assert all(wire.wire.length_m > 0 for wire in rig.trailer.cord)
        assert all(each.source and each.says for each in rig.assumptions)


@pytest.mark.parametrize("text", TEXTS)
def test_each_line_of_an_example_left_out(text: str) -> None:
    lines = text.splitlines()
    for number in range(len(lines)):
        rig_or_mends("\n".join(lines[:number] + lines[number + 1 :]))
