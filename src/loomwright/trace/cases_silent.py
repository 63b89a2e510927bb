"""What a case is silent about: people tell what is wrong, so the rest was probably as usual."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.trace.cases_read import Case, Seen
from loomwright.trace.cases_rig import answers_of
from loomwright.trace.cases_words import Spot

SILENCE = 0.4
"""How much silence counts against words: weak, for many tell only what bothers them most."""

FINE = frozenset({"normal", "on", "bright", "flashing"})
LIGHT_BOTH = frozenset({"park", "brake_pedal", "reverse", "fog"})
"""Commands that light the same lamp on both sides."""

LAMPS = (
    ("park", Spot("lamp", "tail")),
    ("left", Spot("lamp", "signal", "L")),
    ("right", Spot("lamp", "signal", "R")),
)
BRAKES = (("brake_lever", Spot("brakes", "all")), ("brake_pedal", Spot("controller")))


def silent(case: Case) -> Iterator[Seen]:
    """Yield what a case does not speak of and would be likely to, if it were wrong.

    Parameters
    ----------
    case : Case
        The case; of a vehicle without a trailer nothing is taken as usual.
    """
    if case.rig.get("trailer", "").strip().lower() == "none":
        return
    for command, spot in LAMPS:
        if not any(_speaks_of_lamp(seen.spot, spot) for seen in case.seen):
            word = "normal" if command == "park" else "flashing"
            yield Seen(command, spot, word, "not mentioned")
    yield from _other_sides(case)
    if answers_of(case).get("brakes") in ("electric", "electric-over-hydraulic"):
        for command, spot in BRAKES:
            if not any(
                seen.spot.part in ("brakes", "controller", "cluster", "hub") for seen in case.seen
            ):
                word = "normal" if spot.part == "brakes" else "connected"
                yield Seen(command, spot, word, "not mentioned")


def _other_sides(case: Case) -> Iterator[Seen]:
    """Where a lamp of one side is told to be wrong, the other side was looked at as well."""
    told = {(seen.command, seen.spot) for seen in case.seen}
    for seen in case.seen:
        spot = seen.spot
        if spot.part != "lamp" or not spot.side or spot.where != "here" or seen.word in FINE:
            continue
        if not set(seen.command.split("+")) <= LIGHT_BOTH:
            continue
        other = Spot("lamp", spot.name, "R" if spot.side == "L" else "L")
        both = Spot("lamp", spot.name)
        if (seen.command, other) not in told and (seen.command, both) not in told:
            yield Seen(seen.command, other, "normal", "not mentioned")


def _speaks_of_lamp(spot: Spot, lamp: Spot) -> bool:
    if spot.part == "everything":
        return True
    if spot.part == "socket":
        return spot.name == "all"
    if spot.part != "lamp":
        return False
    side = not spot.side or not lamp.side or spot.side == lamp.side
    return spot.name in ("all", lamp.name) and side
