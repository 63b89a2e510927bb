"""Places of keys in a file: paths as text, and the line each key stands on."""

import tomllib
from collections.abc import Iterator

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from loomwright import examples
from loomwright.invalid import InvalidInput
from loomwright.rig.lines import key_lines, value_spans
from loomwright.rig.places import line_of, path_text, read_path

TRICKY = '''# a comment with [brackets] = and "quotes"
title = "a # in text, [not a table]"   # and a comment
"odd key" = 1
dotted.inner."quoted.key" = [1, 2,
  { deep = "x" },   # third entry
]

[table.sub]
long = """
[fake]
fake = 1
"""
after = \'\'\'
a ' and '' inside
\'\'\'
number = 1.5

[[list]]
a = 1

[list.inner]
b = 2

[[list.legs]]
c = 3

[[list.legs]]
c = 4

[[list]]
d = { e = { f = 5 } }
'''

EXPECTED = {
    ("title",): 2,
    ("odd key",): 3,
    ("dotted", "inner", "quoted.key"): 4,
    ("dotted", "inner", "quoted.key", 0): 4,
    ("dotted", "inner", "quoted.key", 2): 5,
    ("dotted", "inner", "quoted.key", 2, "deep"): 5,
    ("table", "sub"): 8,
    ("table", "sub", "long"): 9,
    ("table", "sub", "after"): 13,
    ("table", "sub", "number"): 16,
    ("list", 0): 18,
    ("list", 0, "inner", "b"): 22,
    ("list", 0, "legs", 0, "c"): 25,
    ("list", 0, "legs", 1, "c"): 28,
    ("list", 1): 30,
    ("list", 1, "d", "e", "f"): 31,
}


def places(node: object, here: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Every place of a parsed file."""
    if here:
        yield here
    if isinstance(node, dict):
        for key, value in node.items():
            yield from places(value, (*here, key))
    elif isinstance(node, list):
        for number, value in enumerate(node):
            yield from places(value, (*here, number))


@pytest.mark.parametrize("place", EXPECTED)
def test_each_key_has_the_line_it_stands_on(place: tuple[str | int, ...]) -> None:
    """Lines counted by eye in the text above."""
    assert key_lines(TRICKY)[place] == EXPECTED[place]


def test_every_place_of_the_tricky_file_has_a_line() -> None:
    assert set(places(tomllib.loads(TRICKY))) <= set(key_lines(TRICKY))


@pytest.mark.parametrize("name", examples.names())
def test_every_place_of_an_example_has_the_line_that_names_it(name: str) -> None:
    text = examples.text(name)
    lines, rows = key_lines(text), text.splitlines()

    for place in places(tomllib.loads(text)):
        key = [step for step in place if isinstance(step, str)][-1]
        assert key in rows[lines[place] - 1], path_text(place)


def test_a_missing_place_has_the_line_of_the_table_around_it() -> None:
    lines = key_lines(TRICKY)

    assert line_of(("list", 1, "d", "missing"), lines) == 31
    assert line_of(("list", 1, "missing"), lines) == 30
    assert line_of(("nowhere",), lines) is None


@pytest.mark.parametrize(
    ("path", "place"),
    [
        ("trailer.lamp[2].lights.tail", ("trailer", "lamp", 1, "lights", "tail")),
        ("socket[1]", ("socket", 0)),
        ('rig."odd key"', ("rig", "odd key")),
        ("socket[1].joined[2][3]", ("socket", 0, "joined", 1, 2)),
    ],
)
def test_a_path_counts_entries_from_one(path: str, place: tuple[str | int, ...]) -> None:
    assert read_path(path) == place
    assert path_text(place) == path


@given(st.lists(st.one_of(st.text(max_size=8), st.integers(0, 10**6)), min_size=1, max_size=5))
def test_a_place_read_from_its_path_is_the_place(steps: list[str | int]) -> None:
    place = ("rig", *steps)

    assert read_path(path_text(place)) == place


@pytest.mark.parametrize("path", ["", ".", "a..b", "[1].a", "a[0]", "a[x]", 'a."b', "a]"])
def test_what_is_no_path_is_refused(path: str) -> None:
    with pytest.raises(InvalidInput, match="give a path such as"):
        read_path(path)


VALUES = st.recursive(
    st.one_of(st.text(max_size=6), st.integers(-9, 9), st.booleans(), st.floats(-9, 9)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=4), inner, max_size=3)
    ),
    max_leaves=12,
)


@given(st.dictionaries(st.text(max_size=5), VALUES, max_size=4))
def test_every_place_of_any_file_has_a_line(data: dict[str, object]) -> None:
    """Files are laid out by tomlkit, read by tomllib: two independent readers of TOML."""
    text = tomlkit.dumps(data)
    parsed = tomllib.loads(text)
    lines = key_lines(text)

    assert set(places(parsed)) <= set(lines)
    assert all(1 <= line <= text.count("\n") + 1 for line in lines.values())


def test_a_value_stands_between_its_equals_sign_and_its_comment() -> None:
    toml = """\
[vehicle]
name = "van" # ours
[[vehicle.feed]]
fuse = { rating = 7.5, kind = 'mini' }
"""

    spans = value_spans(toml)

    written = {place: toml[slice(*span)] for place, span in spans.items()}
    assert written == {
        ("vehicle", "name"): '"van"',
        ("vehicle", "feed", 0, "fuse", "rating"): "7.5",
        ("vehicle", "feed", 0, "fuse", "kind"): "'mini'",
    }
