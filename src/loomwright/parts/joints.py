"""Joints to make: splices of a new lead, and the joints of a trailer wired anew."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator

from loomwright.hookup.model import Hookup, Pair, SpliceChoice
from loomwright.hookup.splices import ring_choice, splice_choice
from loomwright.parts.cuts import Hanging, hangings
from loomwright.parts.model import Item
from loomwright.quantities import WireSize
from loomwright.reference.joints import joint
from loomwright.rig.model import Join, Returns, Rig, Socket

PLUG_IN = "plug-in"
FRAME_SCREW = "frame-screw"
SPARES = "add two for spoiled crimps"
STUD_BLOCK = "stud-block"
BLOCKS = ("terminal-block", STUD_BLOCK)


def splice_items(hookup: Hookup, added: Collection[Socket]) -> Iterator[Item]:
    """Yield the joints of the splice table, equal ones counted together.

    A tee needs one harness instead of joints; what has no partner needs a sealed cap.
    """
    teed = {socket.name for socket in added if socket.join is Join.TEE}
    for name in sorted(teed):
        yield Item(1, "plug-in branch harness made for this vehicle", name)
    splices = hookup.at("splice")
    made = Counter(_words(pair) for pair in splices if pair.socket not in teed and _is_made(pair))
    for words, count in made.items():
        yield Item(count, words, _with_spares("joints of the splice table", words))
    ends = sum(1 for pair in splices if pair.do.startswith("Cap and seal"))
    if ends:
        yield Item(ends, "sealed end cap", "conductors without a partner")


def trailer_joint_items(rig: Rig) -> Iterator[Item]:
    """Yield the joints at the junction, at each load and on the frame."""
    yield from _junction_items(rig)
    taps: Counter[str] = Counter()
    rings = 0
    for hanging in hangings(rig):
        taps.update(_taps(rig, hanging))
        rings += _is_screwed(rig, hanging)
    for words, count in taps.items():
        yield Item(count, words, _with_spares("loads along the run", words))
    if rings:
        yield Item(rings, joint(FRAME_SCREW).title, "ground of each load at the frame")
    if rig.trailer.returns is Returns.FRAME:
        yield Item(1, joint("ring-terminal").title, "frame to the junction")


def _with_spares(purpose: str, words: str) -> str:
    return f"{purpose}; {SPARES}" if "crimped" in words or "ring" in words else purpose


def joint_words(splice: SpliceChoice) -> str:
    """Return a joint as a line of the parts list: its kind, its barrel, its sleeve."""
    details = [part for part in (splice.barrel, splice.shrink) if part]
    title = joint(splice.kind).title
    return f"{title} ({'; '.join(details)})" if details else title


def _junction_items(rig: Rig) -> Iterator[Item]:
    trailer, cores = rig.trailer, len(rig.trailer.cord)
    title = joint(trailer.junction).title
    if trailer.junction in BLOCKS:
        yield Item(1, f"{title}, {cores} ways", "trailer nose")
        if trailer.junction == STUD_BLOCK:
            yield Item(2 * cores, joint("ring-terminal").title, "studs of the junction")
        else:
            yield Item(1, "closed box with cable glands", "around the block at the trailer nose")
        return
    at_nose = Counter(
        joint_words(splice_choice(trailer.junction, wire.wire.size, trailer.run.get(wire.function)))
        for wire in trailer.cord
    )
    for words, count in at_nose.items():
        yield Item(count, words, "junction, one for each conductor of the cord")


def _taps(rig: Rig, hanging: Hanging) -> Iterator[str]:
    """Joints of one load: each branch into its run, and the ground into the ground run."""
    sizes = [(hanging.load.branch.size, function) for function in hanging.fed_by]
    if not _is_screwed(rig, hanging):
        sizes.append((hanging.load.ground.size, hanging.home))
    for size, function in sizes:
        run = rig.trailer.run.get(function)
        yield joint_words(_tap(hanging.load.joint, run, size))


def _tap(kind: str, run: WireSize | None, branch: WireSize) -> SpliceChoice:
    if kind == "ring-terminal":
        return ring_choice(branch)
    return splice_choice(kind, run, branch, through=True)


def _is_screwed(rig: Rig, hanging: Hanging) -> bool:
    return rig.trailer.returns is Returns.FRAME and hanging.home == "ground"


def _is_made(pair: Pair) -> bool:
    both = pair.vehicle_side is not None and pair.trailer_side is not None
    return both and pair.splice is not None


def _words(pair: Pair) -> str:
    return "" if pair.splice is None else joint_words(pair.splice)
