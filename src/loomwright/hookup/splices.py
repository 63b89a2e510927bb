"""The joint that takes the wires: barrel, strip length, sleeve, or why it does not fit."""

from __future__ import annotations

from loomwright.hookup.model import SpliceChoice
from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.joints import Splice, joint, splice_for, strip_length_mm

BUTTS = frozenset({"sealed-butt", "butt", "step-down-butt"})
RING = "ring-terminal"


def splice_choice(
    kind: str, left: WireSize | None, right: WireSize | None, *, through: bool = False
) -> SpliceChoice:
    """Return what joins these wires with this kind of joint.

    Parameters
    ----------
    kind : str
        Key of the joint table.
    left, right : WireSize or None
        Sizes of both sides; None where a side is a converter and has its own end.
    through : bool
        Whether the left wire goes on behind the joint, so that three ends meet.

    Notes
    -----
    Each end of a butt is chosen by the copper in it; where one barrel does not take both ends,
    a step-down splice is named and `fits` is false unless the joint is already of that kind.
    """
    title = joint(kind).title
    if kind not in BUTTS:
        return SpliceChoice(kind, "", None, "", fits=True, note=title)
    if left is None or right is None:
        known = left or right
        strip = None if known is None else strip_length_mm(known)
        note = "choose the barrel with the box's own lead in hand"
        return SpliceChoice(kind, "", strip, "", fits=True, note=note)
    sizes = (left, left, right) if through else (left, right)
    try:
        best = splice_for(sizes)
    except InvalidInput as problem:
        return SpliceChoice(kind, "", None, "", fits=False, note=problem.fix)
    return _butt(kind, title, best)


def ring_choice(size: WireSize) -> SpliceChoice:
    """Return the ring terminal for a wire of this size: its barrel is that of two equal wires."""
    note = joint(RING).title
    try:
        like = splice_for((size, size))
    except InvalidInput as problem:
        return SpliceChoice(RING, "", None, "", fits=False, note=problem.fix)
    return SpliceChoice(RING, _barrel(like), like.strip_mm, _sleeve(like), fits=True, note=note)


def _butt(kind: str, title: str, best: Splice) -> SpliceChoice:
    fits = best.kind in (kind, "sealed-butt")
    ends = " into ".join(
        " + ".join(str(size) for size in end) for end in (best.left_wires, best.right_wires)
    )
    note = f"{title}: {ends}" if fits else f"{ends} needs a step-down butt, not one barrel"
    return SpliceChoice(
        best.kind if not fits else kind,
        _barrel(best),
        best.strip_mm,
        _sleeve(best),
        fits=fits,
        note=note,
    )


def _barrel(splice: Splice) -> str:
    colours = dict.fromkeys((splice.left.colour, splice.right.colour))
    return f"{' to '.join(colours)}, {splice.takes}"


def _sleeve(splice: Splice) -> str:
    if splice.sleeve is None:
        return "adhesive sleeve chosen by hand: no single tube covers both wires"
    tube = splice.sleeve
    return f"{tube.ratio} adhesive tube, {tube.supplied_mm:g} to {tube.recovered_mm:g} mm"
