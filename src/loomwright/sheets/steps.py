"""The steps of the work in order, chosen by what the rig has, with figures for this rig."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from loomwright.invalid import InvalidInput
from loomwright.quantities import (
    Units,
    WireSize,
    show_current,
    show_diameter,
    show_length,
    unbroken,
)
from loomwright.reference.copper import area_mm2
from loomwright.reference.joints import clearance, pull_out_n, support_spacing_mm
from loomwright.rig.model import Rig
from loomwright.sheets.care import caution
from loomwright.sheets.facts import facts_of, new_feeds, new_sockets
from loomwright.sheets.route import grommet_words
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import (
    capital,
    feed_name,
    function_title,
    listed,
    pull_words,
    short_length,
    size_words,
)
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.sheets"
LENGTHS_MM = {
    "mm40": 40.0,
    "mm75": 75.0,
    "mm150": 150.0,
}
"""Lengths the steps name by a word, so that each rig reads them in its own units. [mm]"""


@dataclass(frozen=True, slots=True)
class Step:
    """One step: shown where the rig has every fact of `needs` and none of `lacks`.

    `says` may hold figures of the rig by name in braces; `cautions` are keys of the caution
    table, printed at the step.
    """

    key: str
    phase: str
    says: str
    needs: tuple[str, ...]
    lacks: tuple[str, ...]
    cautions: tuple[str, ...]
    source: str
    standing: Standing


def all_steps() -> tuple[Step, ...]:
    """Return every step of the table, in the order of the work."""
    return read_rows(PACKAGE, "steps", Step)


def steps_for(rig: Rig) -> tuple[Step, ...]:
    """Return the steps of this job."""
    facts = facts_of(rig)
    return tuple(
        step
        for step in all_steps()
        if facts.issuperset(step.needs) and facts.isdisjoint(step.lacks)
    )


def steps(rig: Rig) -> Content:
    """Return the steps by phase, each caution once, and the pull of each size of crimp."""
    figures = figures_of(rig)
    phases: dict[str, list[dict[str, object]]] = {}
    warned: set[str] = set()
    for number, step in enumerate(steps_for(rig), 1):
        fresh = [key for key in step.cautions if key not in warned]
        warned.update(fresh)
        phases.setdefault(step.phase, []).append(
            {
                "number": number,
                "says": unbroken(capital(step.says.format_map(figures))),
                "cautions": [unbroken(caution(key).says) for key in fresh],
            }
        )
    return {
        "phases": [{"title": phase, "steps": each} for phase, each in phases.items()],
        "pulls": _pulls(rig),
    }


def steps_cite(rig: Rig) -> tuple[str, ...]:
    """Return the source cells of the steps of this job and of their cautions."""
    shown = steps_for(rig)
    return (
        *(step.source for step in shown),
        *(caution(key).source for step in shown for key in step.cautions),
    )


def figures_of(rig: Rig) -> Mapping[str, str]:
    """Return every figure a step may name, in the units of the rig."""
    units = rig.units
    added = new_sockets(rig)
    sockets = listed(f"“{socket.name}”" for socket in added) or "the trailer"
    joins = dict.fromkeys(
        s.joins_from for s in added if s.joins_from not in ("vehicle", "converter")
    )
    holes = [leg.hole_mm for socket in added for leg in socket.legs if leg.hole_mm is not None]
    return {
        **{name: short_length(mm, units) for name, mm in LENGTHS_MM.items()},
        "socket": sockets,
        "towing": f"“{rig.towing}”",
        "joins": listed(f"“{name}”" for name in joins) or "the vehicle's wires",
        "hole": listed(show_diameter(hole, units) for hole in holes),
        "grommet": listed(grommet_words(socket, units) for socket in added if socket.lead),
        "slack": listed(dict.fromkeys(show_length(socket.slack_m, units) for socket in added)),
        "clips": short_length(support_spacing_mm("under-vehicle"), units),
        "frame_clips": short_length(support_spacing_mm("trailer-frame"), units),
        "first_clip": short_length(support_spacing_mm("first-from-connector"), units),
        "exhaust": short_length(clearance("exhaust").min_mm, units),
        "fuel": short_length(clearance("fuel-line").min_mm, units),
        "edge": short_length(clearance("edge").min_mm, units),
        "moving": short_length(clearance("moving-brake-line").min_mm, units),
        "feeds": listed(_feeds(rig)),
        "within": short_length(178.0, units),
        "inputs": _inputs(rig),
        "order": _order(rig),
    }


def _feeds(rig: Rig) -> Iterator[str]:
    """The new feeds by name, each with its fuse."""
    for feed in new_feeds(rig):
        name = feed_name(rig, feed)
        yield name if feed.fuse is None else f"{name} {show_current(feed.fuse.rating_a)}"


def _inputs(rig: Rig) -> str:
    names = [] if rig.converter is None else list(rig.converter.channel_a)
    return listed(function_title(name).lower() for name in names)


def _order(rig: Rig) -> str:
    """Joints in the order of the work: ground, lamps, brake, supplies last."""
    late = ("brake", "reverse", "battery", "charge", "ignition")
    functions = [w.function for socket in new_sockets(rig) for w in socket.lead]
    first = [f for f in functions if f.startswith("ground")]
    lamps = [f for f in functions if f not in first and f not in late]
    last = [f for f in late if f in functions]
    return ", ".join(function_title(f).lower() for f in dict.fromkeys((*first, *lamps, *last)))


def _pulls(rig: Rig) -> list[dict[str, str]]:
    """Pull each size of crimp must stand, thinnest first."""
    sizes = dict.fromkeys(sorted(_crimped(rig), key=area_mm2))
    return [
        {"size": size_words(size), "pull": words}
        for size in sizes
        if (words := _pull(size, rig.units))
    ]


def _crimped(rig: Rig) -> list[WireSize]:
    added = new_sockets(rig)
    sizes = [wire.wire.size for socket in added for wire in socket.lead]
    sizes += [socket.ground.size for socket in added]
    sizes += [feed.wire.size for feed in new_feeds(rig)]
    if not added:
        sizes += [wire.wire.size for wire in rig.trailer.cord]
        sizes += [lamp.branch.size for lamp in rig.trailer.lamps]
        sizes += [brake.branch.size for brake in rig.trailer.brakes]
    return sizes


def _pull(size: WireSize, units: Units) -> str:
    try:
        return pull_words(pull_out_n(size), units)
    except InvalidInput:
        return ""
