"""LAMP03: left and right lamps of one kind differ."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import (
    NOMINAL,
    housing_of,
    is_dead_for_a_known_reason,
    lit,
    load_name,
)
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.rules.lamp_voltage import low_lamps
from loomwright.checks.words import capital, command_title
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.quantities import show_voltage
from loomwright.reference.limits import limit
from loomwright.rig.model import Lamp, Rig, Side

CODE = "LAMP03"
SOURCE = "assumption"

PAIRS = {
    "left_turn": "right_turn",
    "left_stop_turn": "right_stop_turn",
    "tail_left": "tail_right",
    "tail": "tail",
    "stop": "stop",
}


def sides_differ(work: Work) -> Iterator[Finding]:
    """Flag the pair of rear lamps, left and right, whose voltages differ by more than 0.3 V.

    Each side is read under its own command with the lamps of its pair as far back as it; the
    largest difference is told. Up to 0.6 V nobody sees it, and it is a note; circuits with lamps
    that get too little are left to LAMP01.
    """
    found = list(_pairs(work))
    if not found:
        return
    case, low, high = max(found, key=lambda each: each[2].voltage_v - each[1].voltage_v)
    bound = limit("voltage-lost-side")
    difference_v = high.voltage_v - low.voltage_v
    if bound.is_met_by(difference_v):
        return
    one, other = load_name(work.rig, low), load_name(work.rig, high)
    yield Finding(
        rule=CODE,
        severity=Severity.NOTE if limit("side-plain").is_met_by(difference_v) else Severity.SHOULD,
        where=f"{one} lamp",
        says=f"{capital(one)} gets {show_voltage(low.voltage_v)} and {other} gets "
        f"{show_voltage(high.voltage_v)} under {command_title(case.command)}: "
        f"{show_voltage(difference_v)} apart, {show_voltage(bound.value)} is the most.",
        why="One side dimmer than the other looks like a fault and misleads at night.",
        fix=f"Bring the wires and joints of {one} to what the other side has.",
        source=bound.source,
        value=difference_v,
        limit=bound.value,
        unit="V",
        station="branch",
        command=case.command,
        standing=bound.standing,
    )


def _pairs(work: Work) -> Iterator[tuple[CommandAnswer, LoadAnswer, LoadAnswer]]:
    told = {load.function for _, load in low_lamps(work, NOMINAL)}
    readings = [
        (case, load)
        for case, load in lit(work, NOMINAL)
        if not is_dead_for_a_known_reason(work, case, load) and load.function not in told
    ]
    for case, left in readings:
        for other_case, right in readings:
            if _are_a_pair(work.rig, left, right) and _alike(case.command, other_case.command):
                low, high = sorted((left, right), key=lambda load: load.voltage_v)
                yield (case if low is left else other_case), low, high


def _alike(command: str, other: str) -> bool:
    return command == other or command.replace("left", "right") == other


def _are_a_pair(rig: Rig, left: LoadAnswer, right: LoadAnswer) -> bool:
    if PAIRS.get(left.function) != right.function:
        return False
    one, other = _housing(rig, left, "left"), _housing(rig, right, "right")
    if one is None or other is None:
        return False
    return one.counts_as == other.counts_as and abs(one.back_m - other.back_m) < 0.5


def _housing(rig: Rig, load: LoadAnswer, side: Side) -> Lamp | None:
    found = housing_of(rig, load)
    return found if found is not None and found.side == side else None


RULE = Rule(CODE, "Left and right lamps differ", SOURCE, sides_differ)
