"""FEED01: nothing feeds a function that the trailer needs."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.rules.surge_reverse import needs_reverse
from loomwright.checks.words import capital, circuit
from loomwright.electrics.carriers import carrier
from loomwright.hookup.demand import used_functions
from loomwright.hookup.model import Standing
from loomwright.rig.model import Rig

CODE = "FEED01"
SOURCE = "trade"

ROAD_LAMPS = frozenset(
    {
        *("tail", "tail_left", "tail_right", "stop", "left_turn", "right_turn"),
        *("left_stop_turn", "right_stop_turn"),
    }
)


def functions_without_feed(work: Work) -> Iterator[Finding]:
    """Flag each function that some load of the trailer needs and no wire brings.

    It may end on the vehicle, at the socket, in the adapter or in the cord; the finding says
    where. What a converter must make is left to CONV02, the reverse feed of surge brakes to
    BRAK04.
    """
    used = used_functions(work.rig.trailer)
    if needs_reverse(work.rig):
        used -= {"reverse"}
    for function in sorted(used):
        end = _end_of(work, function)
        if end is not None:
            yield _finding(function, *end)


def _end_of(work: Work, function: str) -> tuple[str, str, str] | None:
    """Return place, station and words of where the way of a function ends, None if it is fed."""
    rig = work.rig
    corded = [wire.function for wire in rig.trailer.cord]
    held = carrier(function, corded)
    if held is None:
        return "trailer cord", "cord", "the trailer's cord has no wire for it"
    unfed = (Standing.NO_FEED, Standing.LOST_IN_ADAPTER)
    for pair in work.hookup.pairs:
        if pair.function == held and pair.stage != "splice" and pair.standing in unfed:
            lost = pair.standing is Standing.LOST_IN_ADAPTER
            said = "it is lost in the adapter" if lost else "no wire of the socket brings it"
            return f"{pair.socket}, {circuit(held)}", "plug", said
    for pair in work.hookup.pairs:
        of_towing = pair.socket == rig.towing and pair.stage == "splice"
        if of_towing and pair.function == held and pair.standing is Standing.NO_FEED:
            return f"{pair.socket} lead", "joint", "nothing on the vehicle feeds its wire"
    return _vehicle_without(rig, held)


def _vehicle_without(rig: Rig, function: str) -> tuple[str, str, str] | None:
    """A factory socket has no splices to look at: its pins need a feed each."""
    known = [feed.function for feed in rig.vehicle.feeds]
    made = rig.converter is not None and carrier(function, rig.converter.channel_a) is not None
    across = rig.vehicle.signals is not rig.trailer.signals and function in SIGNALS
    if carrier(function, known) is not None or made or across:
        return None
    return "vehicle", "feed", "the vehicle lists no feed for it"


SIGNALS = frozenset({"stop", "left_turn", "right_turn", "left_stop_turn", "right_stop_turn"})
"""What a missing converter explains: CONV02 tells of that."""


def _finding(function: str, place: str, station: str, said: str) -> Finding:
    return Finding(
        rule=CODE,
        severity=_severity(function),
        where=place,
        says=f"{capital(circuit(function))}: the trailer needs it, and {said}.",
        why="What is not fed does not work."
        if function != "brake"
        else "The trailer does not brake.",
        fix=f"Bring a fused feed for {circuit(function)} to the socket's pin, or correct the rig.",
        source=SOURCE,
        station=station,
        standing="common practice",
    )


def _severity(function: str) -> Severity:
    if function == "brake":
        return Severity.DANGER
    return Severity.MUST if function in ROAD_LAMPS else Severity.SHOULD


RULE = Rule(CODE, "Function without a feed", SOURCE, functions_without_feed)
