"""The way of the lead and what it takes: legs, holes, clips, lengths to cut, parts to pull."""

from __future__ import annotations

import math
from collections.abc import Iterator

from loomwright.drawing.run_plan import plan_run
from loomwright.invalid import InvalidInput
from loomwright.parts.model import Cut, PartsList
from loomwright.quantities import Units, show_diameter, show_length
from loomwright.reference.cables import bundle_diameter_mm
from loomwright.reference.insulation import insulated_diameter_mm
from loomwright.reference.joints import Clearance, clearances, grommet_for, support_spacing_mm
from loomwright.rig.model import Rig, Socket
from loomwright.sheets.facts import is_rewire, new_sockets
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import (
    capital,
    function_title,
    part_words,
    short_length,
    size_words,
    swatch,
)

CLEARANCE_WORDS = {
    "exhaust": "exhaust and tail pipe",
    "fuel-line": "fuel lines",
    "moving-brake-line": "moving brake lines and parts that swing",
    "fixed-brake-line": "fixed brake lines",
    "rotating": "rotating parts",
    "edge": "frame edges, bolt heads and brackets",
}


def route(rig: Rig, parts: PartsList) -> Content:
    """Return the route of each new lead, the clearances to keep, the cut list, the parts list."""
    units = rig.units
    return {
        "leads": [_lead(socket, units) for socket in new_sockets(rig) if socket.legs],
        "clearances": [
            _clearance(row, units) for row in clearances() if row.key in CLEARANCE_WORDS
        ],
        "cuts": [
            {
                "swatch": swatch(cut.colour),
                "function": function_title(cut.function),
                "size": size_words(cut.size),
                "start": cut.start,
                "end": cut.end,
                "length": show_length(cut.length_m, units),
            }
            for cut in (*parts.cuts, *(renewed_cuts(rig) if is_rewire(rig) else ()))
        ],
        "parts": [
            {
                "count": str(item.count),
                "what": capital(part_words(item.what, units)),
                "purpose": capital(item.purpose),
            }
            for item in parts.items
        ],
    }


def renewed_cuts(rig: Rig) -> Iterator[Cut]:
    """Yield the conductors of a renewed trailer: cord, run to the farthest load, branches."""
    trailer = rig.trailer
    for core in trailer.cord:
        wire = core.wire
        yield Cut(core.function, wire.size, wire.colour, "plug", "junction", wire.length_m)
    loads = plan_run(rig).loads
    for name, size in trailer.run.items():
        reach = [each for each in loads if name in (each.carried_by, each.returned_by)]
        if reach:
            far = max(reach, key=lambda each: each.back_m)
            yield Cut(name, size, None, "junction", f"{far.name} lamp", far.back_m)
    for lamp in trailer.lamps:
        for light in lamp.lights:
            branch = lamp.branch
            yield Cut(light.function, branch.size, branch.colour, "run", lamp.name, branch.length_m)
        home = lamp.ground
        yield Cut("ground", home.size, home.colour, lamp.name, "ground run", home.length_m)


def clip_spacing_mm() -> float:
    """Return the largest distance between clips under a vehicle. [mm]"""
    return support_spacing_mm("under-vehicle")


def clip_words(units: Units) -> str:
    """Return the largest distance between clips in words."""
    return short_length(clip_spacing_mm(), units)


def grommet_words(socket: Socket, units: Units) -> str:
    """Return the grommet of a lead and the hole it needs."""
    bundle_mm = bundle_diameter_mm([insulated_diameter_mm(w.wire.size) for w in socket.lead])
    try:
        grommet = grommet_for(bundle_mm)
    except InvalidInput as problem:
        return problem.fix
    hole = show_diameter(grommet.hole_mm, units)
    bundle = show_diameter(round(bundle_mm), units)
    return f"grommet for a bundle of {bundle}, made for a hole of {hole}"


def _lead(socket: Socket, units: Units) -> dict[str, object]:
    legs = [
        {
            "name": capital(leg.name),
            "length": show_length(leg.length_m, units),
            "passes": capital(leg.passes),
            "hole": "" if leg.hole_mm is None else show_diameter(leg.hole_mm, units),
            "cautions": list(leg.cautions),
        }
        for leg in socket.legs
    ]
    cut_m = max((wire.wire.length_m for wire in socket.lead), default=0.0) + socket.slack_m
    clips = math.ceil(1000 * socket.route_m / clip_spacing_mm()) + 2
    return {
        "title": f"Lead of “{socket.name}”",
        "legs": legs,
        "sums": [
            {"name": "Legs together", "value": show_length(socket.route_m, units)},
            {"name": "Slack kept at the ends", "value": show_length(socket.slack_m, units)},
            {"name": "Lead cut to", "value": show_length(cut_m, units)},
            {"name": f"Clips, {clip_words(units)} apart at most", "value": f"{clips}"},
        ],
        "grommet": capital(grommet_words(socket, units)),
        "has_hole": any(leg.hole_mm is not None for leg in socket.legs),
    }


def _clearance(row: Clearance, units: Units) -> dict[str, str]:
    return {"from": CLEARANCE_WORDS[row.key], "length": short_length(row.min_mm, units)}
