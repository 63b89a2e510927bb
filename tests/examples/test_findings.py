"""What a master would say to each example, gravest first, and that a sound rig is left alone.

The reasons are common practice of the trade unless a source is named. No value is checked here:
each rule has its own twin with figures from outside.
"""

from functools import cache

import pytest

from loomwright import examples
from loomwright.checks.collect import check_rig
from loomwright.checks.rule import Finding, Severity
from loomwright.rig.read import read_rig

DANGER, MUST, SHOULD = Severity.DANGER, Severity.MUST, Severity.SHOULD

Expected = dict[str, tuple[Severity, str]]

SAID: dict[str, Expected] = {
    "boat-surge-brakes": {
        "FUSE04": (DANGER, "a bare wire from the battery post burns the truck when it chafes"),
        "LAWS01": (MUST, "80 inches and wider: three identification lamps, 49 CFR 571.108 I-b"),
        "BRAK04": (
            SHOULD,
            "the customer's complaint: no reverse feed, so the brakes lock on a ramp",
        ),
        "JOIN01": (SHOULD, "piercing taps cut strands and take water, beside a boat ramp"),
        "GRND01": (SHOULD, "10 AWG charge feed comes home through 12 AWG"),
        "LEAD01": (SHOULD, "4 ft of lead for a 4 ft route leaves nothing to crimp again"),
        "GRND04": (SHOULD, "a dipped frame with a tilting tongue is no return"),
    },
    "caravan-thirteen-pin": {
        "DROP01": (MUST, "the refrigerator loses a third of its voltage: warm on arrival"),
        "JOIN03": (MUST, "a weathered contact with 12 A for hours softens the plug"),
        "RETN01": (MUST, "ISO 11446-1 keeps 3, 11 and 13 apart"),
        "WIRE01": (MUST, "1.5 mm² carries the refrigerator's return for hours in a bundle"),
        "LAWS01": (MUST, "over 2.1 m wide and 6 m long: outline and side marker lamps, UN R48"),
        "CHRG02": (SHOULD, "a feed live without the engine empties the car overnight"),
        "JOIN01": (SHOULD, "a screw block at the nose of a caravan corrodes"),
        "DROP02": (SHOULD, "a volt lost in the ground of all lamps"),
        "GRND01": (SHOULD, "1.5 mm² brings home what 2.5 mm² feeds"),
        "CHRG01": (SHOULD, "a managed alternator leaves a plain charge wire nothing"),
    },
    "horse-trailer-van": {
        "AWAY01": (MUST, "5 Ah do not hold four magnets for 15 minutes, 49 CFR 393.43"),
        "BRAK01": (MUST, "9.2 V at the last magnet: the trailer pushes"),
        "DROP02": (MUST, "the weak ground: frame screws and a weathered plug pin"),
        "LAMP01": (MUST, "tail lamps at less than half their light, 13 CCR 1249(c)"),
        "BRAK03": (SHOULD, "the undersized wire: 14 AWG for four magnets"),
        "FUSE02": (SHOULD, "25 A on that 14 AWG, over 150 %, ABYC E-11"),
        "JOIN01": (SHOULD, "piercing taps at the converter, a screw block at the nose"),
        "GRND01": (SHOULD, "16 AWG brings home what 12 AWG feeds"),
        "COLR01": (SHOULD, "the colour trap: two conventions meet on one seven-way"),
        "JOIN03": (SHOULD, "weathered contacts: measure their drop, then clean"),
        "GRND04": (SHOULD, "a horse trailer's frame, with electric brakes on it"),
        "CHRG01": (SHOULD, "4 A into 105 Ah: still flat in the evening"),
    },
    "second-socket-flatbed": {
        "BRAK01": (DANGER, "7.3 V at the magnets of a ten-ton trailer: it hardly brakes"),
        "AWAY01": (MUST, "5 Ah for six magnets, 49 CFR 393.43"),
        "COLR01": (MUST, "the old loom's yellow is the battery, the new lead's is left turn"),
        "DROP02": (MUST, "the whole return through one twist-on connector"),
        "JOIN01": (MUST, "brakes on twist-on connectors"),
        "LAMP01": (MUST, "a quarter of the light at the rear"),
        "LAWS01": (MUST, "80 inches and wider: three identification lamps, 49 CFR 571.108 I-b"),
        "BRAK03": (SHOULD, "12 AWG for six magnets"),
        "FUSE02": (SHOULD, "20 A on 16 AWG in a bundle, over 150 %, ABYC E-11"),
        "JOIN03": (SHOULD, "20 W in that twist-on connector while braking"),
        "GRND01": (SHOULD, "14 AWG brings home what 12 AWG feeds"),
        "LEAD01": (SHOULD, "9 ft of lead for a 9 ft route"),
    },
    "truck-24-to-12": {
        "LAMP01": (MUST, "stop lamps under 85 %, 13 CCR 1249(c), for want of a ground"),
        "LAWS01": (MUST, "front position, outline and reversing lamps, UN R48"),
        "DROP02": (SHOULD, "1 mm² for the return of every lamp"),
        "WIRE01": (SHOULD, "that ground is over its ampacity with everything on"),
    },
    "utility-rewire": {
        "LAWS02": (MUST, "rear lamps 14 inches up, 15 is the least, 49 CFR 571.108 I-b"),
        "JOIN01": (SHOULD, "piercing taps again, in a rewire"),
        "GRND01": (SHOULD, "18 gauge brings home what 16 gauge feeds"),
    },
}
"""Rules by example, with the gravest of each and why a master would say so."""

PEOPLE_OR_FIRE = {"FUSE04", "BRAK01"}


@cache
def to_mend(name: str) -> tuple[Finding, ...]:
    found = check_rig(read_rig(examples.text(name), name))
    return tuple(finding for finding in found if finding.severity.to_mend)


@pytest.mark.parametrize("name", examples.names())
def test_an_example_is_told_what_a_master_would_tell_and_no_more(name: str) -> None:
    gravest: dict[str, Severity] = {}
    for finding in to_mend(name):
        gravest.setdefault(finding.rule, finding.severity)

    assert gravest == {rule: severity for rule, (severity, _) in SAID[name].items()}
    assert len(to_mend(name)) <= 12


@pytest.mark.parametrize("name", examples.names())
def test_danger_stands_only_where_people_or_fire_are_at_stake(name: str) -> None:
    dangers = {each.rule for each in to_mend(name) if each.severity is DANGER}

    assert dangers <= PEOPLE_OR_FIRE


def test_the_demo_shows_a_colour_trap_an_undersized_wire_and_a_weak_ground() -> None:
    said = {finding.rule: finding for finding in to_mend(examples.DEMO)}

    assert "Yellow" in said["COLR01"].says
    assert "14 AWG" in said["BRAK03"].says
    assert "ground" in said["DROP02"].where


@pytest.mark.parametrize("kind", list(examples.kinds()))
def test_a_starter_is_a_sound_rig_with_few_notes(kind: str) -> None:
    found = check_rig(read_rig(examples.starter(kind), kind))

    assert [each.says for each in found if each.severity.to_mend] == []
    assert len(found) <= 5
