"""What such readings cannot tell, and what would."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.identify.alike import alike
from loomwright.identify.asking import group_shares, settled
from loomwright.identify.behaviour import NOT_FEEDS, Feeding, function_rows
from loomwright.identify.belief import Belief
from loomwright.identify.commands import OHMS
from loomwright.identify.reading import Reading
from loomwright.identify.seen import Seen, Tester
from loomwright.identify.titles import title, titles

REMAINS = 0.05
HALF = 0.5
HELD_OFF = "held off"
WAITS = "waits for a trailer"


def left_open(belief: Belief, readings: tuple[Reading, ...], *, finished: bool) -> tuple[str, ...]:
    """Return what stays open: at once for functions that read alike, at the end for the rest.

    Parameters
    ----------
    belief : Belief
        What is believed.
    readings : tuple of Reading
        What was read.
    finished : bool
        Whether there is nothing more to read.
    """
    found = list(_alike(belief))
    if finished:
        for wire, sure in zip(belief.bundle.wires, settled(belief), strict=True):
            if not sure:
                found.append(_open_wire(belief, readings, wire.key))
        if not _ground_is_proved(belief, readings):
            found.append(_no_ground(belief, readings))
    return tuple(found)


def _alike(belief: Belief) -> Iterator[str]:
    groups = alike(belief.bundle)
    shares = group_shares(belief)
    for wire, row, sure in zip(belief.bundle.wires, shares, settled(belief), strict=True):
        group = groups[int(row.argmax())]
        if sure and len(group) > 1 and not set(group) <= set(NOT_FEEDS):
            yield (
                f"Wire {wire.key} is {titles(group)}: they answer the same command. Pull the fuse "
                "of one, or look at the lamps, and read again."
            )


def _open_wire(belief: Belief, readings: tuple[Reading, ...], wire: str) -> str:
    place = [each.key for each in belief.bundle.wires].index(wire)
    groups, row = alike(belief.bundle), group_shares(belief)[place]
    remain = [groups[n] for n in row.argsort()[::-1] if row[n] >= REMAINS]
    said = ", or ".join(titles(group) for group in remain)
    if len(remain) == 1:
        said = f"{said}: {row.max():.0%} sure, and no further reading tells more"
    reasons = " ".join(dict.fromkeys(_reasons(belief, readings, wire, remain)))
    return f"Wire {wire} may be {said}. {reasons}".rstrip()


def _reasons(
    belief: Belief, readings: tuple[Reading, ...], wire: str, remain: list[tuple[str, ...]]
) -> Iterator[str]:
    functions = [function for group in remain for function in group]
    for function in functions:
        modes = belief.mode(wire, function)
        if modes.get(HELD_OFF, 0.0) > HALF:
            yield (
                f"A {title(function)} may be held off until its conditions are met: battery low, "
                "alternator up, trailer seen. Read it again with a trailer plugged in and the "
                "engine running."
            )
        if modes.get(WAITS, 0.0) > HALF:
            yield (
                "A brake controller may give nothing until it sees magnets: load the wire with a "
                "trailer or 3 to 4 ohm, and read it again with the lever."
            )
    kinds = {function_rows()[function].kind for function in functions}
    if "lamp" in kinds and belief.feeding().get(Feeding.SLEEPING, 0.0) > REMAINS:
        yield (
            "A module may give nothing until lamps load it: plug in a trailer or a lamp load, "
            "and read again."
        )
    no_meter = Tester.METER not in belief.bundle.testers
    if "ground" in kinds and no_meter and not _was_measured(readings, wire):
        yield "Ohms to battery negative would tell a ground: that needs a meter."


def _was_measured(readings: tuple[Reading, ...], wire: str) -> bool:
    return any((each.command, each.wire) == (OHMS.key, wire) for each in readings)


def _ground_is_proved(belief: Belief, readings: tuple[Reading, ...]) -> bool:
    if "ground" not in belief.functions:
        return True
    return any(each.seen is Seen.SMALL_DROP for each in readings)


def _no_ground(belief: Belief, readings: tuple[Reading, ...]) -> str:
    if any(each.seen is Seen.POOR_DROP for each in readings):
        return "A ground dropped more than 0.1 V under a lamp: mend it before anything hangs on it."
    if not {Tester.METER, Tester.LAMP} <= set(belief.bundle.testers):
        return "No ground is proved under load: that needs a meter and a 21 W lamp together."
    return "No ground was proved in this bundle: run one of its own to bare frame or battery."
