"""The joint that takes both wires: barrel, strip length, sleeve, or why it does not fit."""

from __future__ import annotations

from loomwright.hookup.model import SpliceChoice
from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.joints import Splice, joint, splice_for, strip_length_mm

BUTTS = frozenset({"sealed-butt", "butt", "step-down-butt"})


def splice_choice(kind: str, left: WireSize | None, right: WireSize | None) -> SpliceChoice:
    """Return what joins these two wires with this kind of joint.

    Parameters
    ----------
    kind : str
        Key of the joint table.
    left, right : WireSize or None
        Sizes of both sides; None where a side is a converter or a ring and has its own end.
    """
    title = joint(kind).title
    known = [size for size in (left, right) if size is not None]
    if kind not in BUTTS:
        return SpliceChoice(kind, "", None, "", fits=True, note=title)
    if len(known) < 2:
        strip = strip_length_mm(known[0]) if known else None
        return SpliceChoice(kind, "", strip, "adhesive sleeve", fits=True, note=title)
    try:
        best = splice_for(known)
    except InvalidInput as problem:
        return SpliceChoice(kind, "", None, "", fits=False, note=problem.fix)
    fits = best.kind == kind or best.kind != "step-down-butt"
    note = title if fits else f"{known[0]} and {known[1]} need a step-down butt, not one barrel"
    barrel = f"{best.colour}, {best.takes}"
    return SpliceChoice(kind, barrel, best.strip_mm, _sleeve(best), fits=fits, note=note)


def _sleeve(splice: Splice) -> str:
    if splice.sleeve is None:
        return "adhesive sleeve chosen by hand: no single tube covers both wires"
    tube = splice.sleeve
    return f"{tube.ratio} adhesive tube, {tube.supplied_mm:g} to {tube.recovered_mm:g} mm"
