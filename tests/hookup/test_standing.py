"""What two colours say about a joint."""

import pytest

from loomwright.colours import Colour, read_colour
from loomwright.hookup.model import End, Standing
from loomwright.hookup.standing import alike, sentence, standing_of


def end(of: str, function: str, colour: str | None) -> End:
    found: Colour | None = None if colour is None else read_colour(colour)
    return End(of, function, found, None, None, of)


def vehicle(function: str, colour: str | None) -> End:
    return end("vehicle", function, colour)


def lead(function: str, colour: str | None) -> End:
    return end("lead", function, colour)


def test_equal_colours_with_equal_functions_agree() -> None:
    left, right = vehicle("tail", "brown"), lead("tail", "brown")

    assert standing_of(left, right, [left], [right]) == (Standing.SAME, ())


def test_different_colours_with_equal_functions_are_normal_and_said_so() -> None:
    left, right = vehicle("tail", "WH/RD"), lead("tail", "brown")
    standing, meanings = standing_of(left, right, [left], [right])

    assert (standing, meanings) == (Standing.DIFFERENT, ())
    assert sentence(left, right, standing).endswith("the colours differ, which is normal.")


def test_a_colour_that_leads_to_another_function_is_a_trap_with_both_meanings() -> None:
    """Yellow was the 12 V feed of one factory harness before 1990, and is the left signal here.

    Source: common practice; SAE J2863 for the lead.
    """
    lefts = [vehicle("battery", "yellow"), vehicle("left_stop_turn", "LTGN/OG")]
    rights = [lead("battery", "black"), lead("left_stop_turn", "yellow")]
    standing, meanings = standing_of(lefts[0], rights[0], lefts, rights)

    assert standing is Standing.TRAP
    assert meanings == (
        "yellow is permanent supply on the vehicle side "
        "and left stop and turn on one wire on the lead side",
    )
    assert "do not follow the colour" in sentence(lefts[0], rights[0], standing)


def test_the_trap_is_named_from_both_ends() -> None:
    """Between the two seven-way blade codes brown and green change places (common practice)."""
    lefts = [vehicle("tail", "brown"), vehicle("right_stop_turn", "green")]
    rights = [lead("tail", "green"), lead("right_stop_turn", "brown")]

    _, meanings = standing_of(lefts[0], rights[0], lefts, rights)

    assert [words.partition(" is ")[0] for words in meanings] == ["brown", "green"]


def test_a_colour_that_leads_to_a_conductor_the_same_feed_serves_is_no_trap() -> None:
    """One tail feed serves left and right: black to brown, brown to brown are both right."""
    tail = vehicle("tail", "brown")
    rights = [lead("tail_left", "black"), lead("tail_right", "brown")]

    assert standing_of(tail, rights[0], [tail], rights) == (Standing.DIFFERENT, ())


def test_an_unknown_colour_is_left_to_the_meter() -> None:
    left, right = vehicle("stop", None), lead("stop", "red")
    standing, _ = standing_of(left, right, [left], [right])

    assert standing is Standing.UNKNOWN
    assert "go by the function you measured" in sentence(left, right, standing)


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("green", "dark green", True),
        ("light blue", "dark blue", True),
        ("BN/WH", "brown", False),
        ("green", "blue", False),
    ],
)
def test_shades_are_alike_and_stripes_are_not(one: str, other: str, same: bool) -> None:
    assert alike(read_colour(one), read_colour(other)) is same


def test_a_shade_under_a_vehicle_can_be_a_trap_too() -> None:
    lefts = [vehicle("reverse", "DKGN"), vehicle("right_stop_turn", "OG")]
    rights = [lead("reverse", "violet"), lead("right_stop_turn", "green")]

    assert standing_of(lefts[0], rights[0], lefts, rights)[0] is Standing.TRAP
