"""How sockets are fixed and breakaway leads joined."""

from __future__ import annotations

from loomwright.reference.mounting import breakaway_wiring, mounting


def test_australian_rounds_stand_on_circles_of_20_and_13_mm() -> None:
    """Source: common practice, a plug sheet."""
    large, small = mounting("au-7-round-large"), mounting("au-7-round-small")

    assert large is not None
    assert small is not None
    assert (large.contact_circle_mm, small.contact_circle_mm) == (20, 13)


def test_seven_and_thirteen_pin_sockets_take_the_same_screws() -> None:
    """M5 for both.

    Source: common practice, a towbar kit manual and a catalogue.
    """
    seven, thirteen = mounting("12n"), mounting("13-pin")

    assert seven is not None
    assert thirteen is not None
    assert str(seven.screws).startswith("M5")
    assert thirteen.screws == "M5"
    assert mounting("4-flat") is None


def test_the_two_leads_of_a_breakaway_switch_are_alike() -> None:
    """One to the battery, one to the brake wire, which is which does not matter.

    Source: common practice, articles on fitting.
    """
    notes = {note.key: note.says for note in breakaway_wiring()}

    assert "alike" in notes["switch-leads"]
    assert "14 AWG" in notes["lead-size"]
