"""What goes round and along the wires: loom, grommets, clips, paint."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from loomwright.invalid import InvalidInput
from loomwright.parts.cuts import trailer_cuts
from loomwright.parts.model import Item
from loomwright.quantities import Units, WireSize, show_diameter, show_length
from loomwright.reference.cables import bundle_diameter_mm
from loomwright.reference.insulation import insulated_diameter_mm
from loomwright.reference.joints import grommet_for, loom_for, support_spacing_mm
from loomwright.rig.model import Rig, Socket

UNDER_VEHICLE, TRAILER_FRAME = "under-vehicle", "trailer-frame"


def clip_count(length_m: float, place: str) -> int:
    """Clips for a route: one for each longest distance between clips, and one at each end."""
    return math.ceil(1000 * length_m / support_spacing_mm(place)) + 2


def route_items(socket: Socket, units: Units) -> Iterator[Item]:
    """Yield loom, grommets and clips of a new lead; nothing where it has no wires."""
    if not socket.lead:
        return
    length_m = socket.route_m or max(wire.wire.length_m for wire in socket.lead)
    sizes = [wire.wire.size for wire in socket.lead]
    yield from _loom(sizes, length_m + socket.slack_m, socket.name, units)
    holes = [leg for leg in socket.legs if leg.hole_mm is not None]
    if holes:
        where = "; ".join(leg.name for leg in holes)
        yield Item(len(holes), _grommet(sizes, units), where)
        yield Item(1, "zinc primer and paint", "bare edges of every drilled hole")
    clips = clip_count(length_m, UNDER_VEHICLE)
    yield Item(clips, "cushioned clip or tie with mount", f"{socket.name} route")


def run_items(rig: Rig) -> Iterator[Item]:
    """Yield loom and clips of a trailer's run."""
    run = [cut for cut in trailer_cuts(rig) if cut.start == "junction"]
    if not run:
        return
    length_m = max(cut.length_m for cut in run)
    yield from _loom([cut.size for cut in run], length_m, "trailer run", rig.units)
    clips = clip_count(length_m, TRAILER_FRAME)
    yield Item(clips, "cushioned clip or tie with mount", "trailer run")


def _loom(sizes: Sequence[WireSize], length_m: float, where: str, units: Units) -> Iterator[Item]:
    bundle_mm = _bundle_mm(sizes)
    bundle = show_diameter(round(bundle_mm), units)
    try:
        loom = loom_for(bundle_mm)
    except InvalidInput as problem:
        yield Item(1, "split loom", f"{where}: bundle of {bundle}; {problem.fix}")
        return
    length = show_length(length_m, units)
    yield Item(1, f"split loom {loom.key}, {length}", f"{where}: bundle of {bundle}")


def _grommet(sizes: Sequence[WireSize], units: Units) -> str:
    bundle_mm = _bundle_mm(sizes)
    bundle = show_diameter(round(bundle_mm), units)
    try:
        grommet = grommet_for(bundle_mm)
    except InvalidInput as problem:
        return f"grommet for a bundle of {bundle}: {problem.fix}"
    hole = show_diameter(grommet.hole_mm, units)
    return f"grommet for a bundle of {bundle}, hole {hole}"


def _bundle_mm(sizes: Sequence[WireSize]) -> float:
    return bundle_diameter_mm([insulated_diameter_mm(size) for size in sizes])
