"""FUSE04: a feed without a fuse."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import circuit, listed
from loomwright.electrics.carriers import inputs_of
from loomwright.reference.functions import function as function_row
from loomwright.reference.limits import limit
from loomwright.rig.model import Feed, Rig, SocketFeed

CODE = "FUSE04"
MM_PER_IN = 25.4
SOURCE = "abyc-e11"


def feeds_without_a_fuse(work: Work) -> Iterator[Finding]:
    """Flag each feed of the trailer that has no fuse at its source.

    A supply that is live by itself is a danger; a brake or lamp feed must have a fuse. The
    lamp outputs of a vehicle with a trailer module protect themselves and are left out.
    """
    rig = work.rig
    bare = [feed for feed in rig.vehicle.feeds if feed.fuse is None and _reaches_trailer(rig, feed)]
    supplies = [feed for feed in bare if _kind(feed) not in ("lamp",)]
    lamps = [feed for feed in bare if _kind(feed) == "lamp"]
    for feed in supplies:
        yield _finding(f"{circuit(feed.function)}", f"vehicle, {circuit(feed.function)}")
    if lamps and rig.vehicle.socket_feed is not SocketFeed.MODULE:
        said = listed([circuit(feed.function) for feed in lamps])
        yield _finding(said, f"vehicle, {said}", Severity.MUST)
    box = rig.converter
    if box is not None and box.feed is not None and box.feed.fuse is None:
        yield _finding("converter's own feed", box.name)


def _kind(feed: Feed) -> str:
    return function_row(feed.function).kind


def _reaches_trailer(rig: Rig, feed: Feed) -> bool:
    used = {wire.function for socket in rig.sockets for wire in socket.lead}
    if rig.converter is not None:
        used |= set(rig.converter.channel_a)
    return any(feed.function in inputs_of(function, [feed.function]) for function in used)


def _finding(said: str, where: str, severity: Severity = Severity.DANGER) -> Finding:
    bound = limit("fuse-distance")
    return Finding(
        rule=CODE,
        severity=severity,
        where=where,
        says=f"The {said} {'has' if ' and ' not in said else 'have'} no fuse.",
        why="A wire that chafes through draws all that the battery can give, and burns.",
        fix=f"Put a fuse within {round(bound.value / MM_PER_IN)} in ({bound.value:g} mm) of the "
        "battery or distribution point, sized for the thinnest wire behind it.",
        source=bound.source,
        station="fuse",
        standing=bound.standing,
    )


RULE = Rule(CODE, "Feed without a fuse", SOURCE, feeds_without_a_fuse)
