"""An entry of a list moved within a job file, with its comments."""

import tomllib

import pytest
from tests.rig.test_write import TEXTS

from loomwright.invalid import InvalidInput
from loomwright.rig.places import read_path
from loomwright.rig.reorder import move_entry

SMALL = """\
# about both
top = 1

# the front one
[[socket]]
name = "front"  # painted
[socket.lead]
size = "14 AWG"
[[socket.leg]]
name = "a"

# the rear one
# with two legs
[[socket]]
name = "rear"

[[socket.leg]]
name = "b"
[[socket.leg]]
name = "c"
# the end
[trailer]
name = "flat"
"""


def _listed(text: str, path: str) -> list[dict[str, object]]:
    node = tomllib.loads(text)
    for step in read_path(path):
        node = node[step]  # type: ignore[index]
    return node  # type: ignore[return-value]


def test_an_entry_takes_its_tables_and_the_comments_above_along() -> None:
    assert (
        move_entry(SMALL, "socket[2]", 1)
        == """\
# about both
top = 1

# the rear one
# with two legs
[[socket]]
name = "rear"

[[socket.leg]]
name = "b"
[[socket.leg]]
name = "c"

# the front one
[[socket]]
name = "front"  # painted
[socket.lead]
size = "14 AWG"
[[socket.leg]]
name = "a"
# the end
[trailer]
name = "flat"
"""
    )


@pytest.mark.parametrize(
    ("name", "path"),
    [
        ("horse-trailer-van", "vehicle.feed"),
        ("horse-trailer-van", "socket[1].leg"),
        ("horse-trailer-van", "trailer.brake"),
        ("second-socket-flatbed", "socket"),
        ("utility-rewire", "trailer.lamp"),
    ],
)
def test_an_entry_moves_and_moves_back(name: str, path: str) -> None:
    text = TEXTS[name]
    entries = _listed(text, path)
    for at, to in ((0, 1), (len(entries) - 1, 0)):
        wanted = [*entries]
        wanted.insert(to, wanted.pop(at))
        moved = move_entry(text, f"{path}[{at + 1}]", to + 1)

        assert _listed(moved, path) == wanted
        assert sorted(moved.splitlines()) == sorted(text.splitlines())
        assert move_entry(moved, f"{path}[{to + 1}]", at + 1) == text


def test_the_last_entry_of_a_file_that_ends_without_a_new_line_moves_too() -> None:
    text = '[[socket]]\nname = "a"\n\n[[socket]]\nname = "b"'

    assert move_entry(text, "socket[2]", 1) == '[[socket]]\nname = "b"\n\n[[socket]]\nname = "a"\n'


@pytest.mark.parametrize(
    ("path", "to", "field"),
    [
        ("socket[3]", 1, "path"),
        ("socket", 1, "path"),
        ("trailer.name", 1, "path"),
        ("socket[1].leg[1].name[1]", 1, "path"),
        ("socket[1]", 0, "to"),
        ("socket[1]", 3, "to"),
    ],
)
def test_what_is_no_entry_or_no_place_in_its_list_is_refused(
    path: str, to: int, field: str
) -> None:
    with pytest.raises(InvalidInput) as refused:
        move_entry(SMALL, path, to)

    assert refused.value.field == field


def test_entries_on_one_line_are_left_to_the_hand() -> None:
    with pytest.raises(InvalidInput, match="by hand"):
        move_entry("x = [{ a = 1 }, { a = 2 }]\ny = 1", "x[1]", 2)
