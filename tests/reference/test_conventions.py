"""Colour conventions and the traps between them."""

from __future__ import annotations

import pytest

from loomwright.invalid import InvalidInput
from loomwright.reference.connectors import connector, connector_keys
from loomwright.reference.conventions import clashes, convention, convention_keys
from loomwright.reference.functions import function_keys
from loomwright.reference.traps import ColourTrap, colour_traps, traps


def meanings(key: str, colour_text: str) -> set[str]:
    """Functions of a colour, the other colours of a connector's pins included."""
    found = set(convention(key).functions_of(colour_text))
    if key in connector_keys():
        found |= {p.function for p in connector(key).pins if colour_text in p.alt_colours}
    return found


def test_thirteen_core_cable_with_grey_for_reverse() -> None:
    """Reverse grey; 9 brown with blue, 10 brown with red; returns exchanged against ISO 4141-3.

    Source: common practice, dealer table of thirteen-core cables.
    """
    cable = convention("13-core-grey-reverse")

    assert cable.entry_for("8").colour_text == "grey"
    assert cable.entry_for("battery").colour_text == "brown/blue"
    assert cable.entry_for("ignition").colour_text == "brown/red"
    assert cable.entry_for("11").colour_text == connector("13-pin").pin("13").colour_text


def test_german_looms_ground_in_brown_and_british_feed_in_brown() -> None:
    """Source: BS AU 7 for the British; common practice for the German."""
    assert convention("din-loom").entry_for("ground").colour_text == "brown"
    assert convention("au7-loom").entry_for("battery").colour_text == "brown"
    assert convention("au7-loom").entry_for("ground").colour_text == "black"


def test_the_two_blade_conventions_clash_in_four_colours() -> None:
    """Green, red, brown and yellow change meaning; red only against an alternative colour.

    Source: common practice, wiring guides on the seven-way blade.
    """
    assert {c.colour_text for c in clashes("7-blade", "7-blade-rv")} == {"green", "brown", "yellow"}
    assert {t.colour_text for t in colour_traps("7-blade", "7-blade-rv")} == {
        "green",
        "red",
        "brown",
        "yellow",
    }


def test_a_narrower_job_is_a_partial_clash() -> None:
    """Yellow is left stop and turn in SAE J1239 and left turn alone in ISO 1724.

    Source: the contact allocations of SAE J1239 and ISO 1724.
    """
    yellow = next(c for c in clashes("4-flat", "12n") if c.colour_text == "yellow")

    assert (yellow.function_a, yellow.function_b) == ("left_stop_turn", "left_turn")
    assert yellow.is_partial


@pytest.mark.parametrize("key", convention_keys())
def test_each_convention_holds_together(key: str) -> None:
    shown = convention(key)

    assert shown.colours
    assert {entry.function for entry in shown.colours} <= set(function_keys())
    if shown.row.connector:
        pins = {pin.number: pin.function for pin in connector(shown.row.connector).pins}
        assert all(pins[e.pin] == e.function for e in shown.colours if e.pin is not None)


@pytest.mark.parametrize("trap", colour_traps(), ids=lambda trap: trap.key)
def test_each_colour_trap_lies_in_the_tables_of_both_sides(trap: ColourTrap) -> None:
    for keys, function in ((trap.on_a, trap.function_a), (trap.on_b, trap.function_b)):
        for key in keys:
            assert function in meanings(key, trap.colour_text)


def test_there_are_as_many_traps_as_were_gathered() -> None:
    """Fifty-two colours with two meanings and twenty-eight other traps were gathered."""
    assert len(colour_traps()) == 52
    assert len(traps()) == 28


def test_traps_of_a_connector() -> None:
    """Source: ISO 11446-1:2012; the three returns are not to be joined."""
    assert "returns-joined" in {trap.key for trap in traps("13-pin")}
    assert "returns-joined" not in {trap.key for trap in traps("4-flat")}
    for trap in traps():
        assert set(trap.connectors) <= set(connector_keys())


def test_an_unknown_convention_names_the_nearest() -> None:
    with pytest.raises(InvalidInput, match="13-core-grey-reverse"):
        convention("13-core-grey")
    with pytest.raises(InvalidInput, match="din-loom has ground"):
        convention("din-loom").entry_for("fog")
