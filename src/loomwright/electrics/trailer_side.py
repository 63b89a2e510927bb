"""The trailer behind its junction: runs, branches, loads and the way home."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from loomwright.circuit import Resistor
from loomwright.electrics.answers import Path
from loomwright.electrics.harness import CHASSIS, Harness, Spot, slug
from loomwright.electrics.mating import junction_node
from loomwright.electrics.resistances import LEAST_OHM
from loomwright.electrics.sockets import is_return
from loomwright.quantities import show_stretch
from loomwright.rig.model import Returns, Rig, Wire

FRAME = "frame"


@dataclass(frozen=True, slots=True)
class Drop:
    """A load's place along the run, its wires, and the functions it is fed and returned by.

    `carried_by` is None where the cord has no conductor for it.
    """

    name: str
    ref: str
    carried_by: str | None
    returned_by: str
    back_m: float
    branch: Wire
    ground: Wire
    joint: str


def run_node(function: str, back_m: float) -> str:
    """Node of a run so far behind the junction; at the junction itself, the junction's."""
    if back_m <= 0:
        return junction_node(function)
    return slug("run", function, f"{back_m:.2f}m")


def frame_node(back_m: float) -> str:
    """Node of the frame so far behind the junction."""
    return slug(FRAME, f"{max(back_m, 0.0):.2f}m")


def add_runs(bench: Harness, rig: Rig, drops: Iterable[Drop]) -> None:
    """Lay a conductor for each function and each return as far as its last load needs."""
    taps: dict[str, set[float]] = {}
    frame: set[float] = set()
    for drop in drops:
        if drop.carried_by is not None:
            taps.setdefault(drop.carried_by, set()).add(drop.back_m)
        if returns_by_frame(rig, drop):
            frame.add(drop.back_m)
        else:
            taps.setdefault(drop.returned_by, set()).add(drop.back_m)
    for function, places in taps.items():
        _add_run(bench, rig, function, sorted(places | {0.0}))
    if frame or rig.trailer.hitch_path_ohm is not None:
        _add_frame(bench, rig, sorted(frame | {0.0}))


def returns_by_frame(rig: Rig, drop: Drop) -> bool:
    """Whether a load's current goes home by the frame: only where the main return is meant."""
    return rig.trailer.returns is Returns.FRAME and drop.returned_by == "ground"


def add_branch(bench: Harness, drop: Drop, key: str, place: str, spot: Spot) -> str:
    """Tap the run and lead to a load; return the node at the end of the branch wire."""
    tap, end = slug(key, "tap"), slug(key, "supply_wire_end")
    at = spot.at("branch")
    run = run_node(drop.carried_by or drop.name, drop.back_m)
    bench.joint(slug(key, "joint"), (run, tap), drop.joint, f"tap to {place}", at)
    bench.wire(slug(key, "branch"), (tap, end), drop.branch, f"branch to {place}", at)
    return end


def add_way_home(bench: Harness, rig: Rig, drop: Drop, key: str, *, start: str, place: str) -> None:
    """Lead from a load's ground to the frame, or to the ground run."""
    spot = Spot("return", "branch", drop.returned_by, f"{drop.ref}.ground")
    end = slug(key, "ground_wire_end")
    words = f"ground wire of {place}"
    bench.wire(slug(key, "ground_wire"), (start, end), drop.ground, words, spot)
    name = slug(key, "ground_joint")
    if returns_by_frame(rig, drop):
        words = f"ground of {place} at the frame"
        bench.joint(name, (end, frame_node(drop.back_m)), "frame-screw", words, spot)
    else:
        run = run_node(drop.returned_by, drop.back_m)
        bench.joint(name, (end, run), drop.joint, f"ground of {place} at the run", spot)


def _add_run(bench: Harness, rig: Rig, function: str, places: list[float]) -> None:
    size = rig.trailer.run.get(function)
    if size is None:
        cord = rig.trailer.cord_wire_for(function)
        size = rig.trailer.run["ground"] if cord is None else cord.wire.size
    said = function.replace("_", " ")
    for near, far in pairwise(places):
        start, end = run_node(function, near), run_node(function, far)
        where = show_stretch(near, far, rig.units)
        name = slug("run_wire", function, f"{far:.2f}m")
        home = is_return(function)
        path: Path = "return" if home else "supply"
        spot = Spot(path, "run", function, f"trailer.run.{function}", "run")
        ends = (end, start) if home else (start, end)
        words = f"run, {said}, {where} behind the junction"
        bench.wire(name, ends, Wire(size, far - near), words, spot)


def _add_frame(bench: Harness, rig: Rig, places: list[float]) -> None:
    """The frame as a return, its ring at the nose, and the ball and chains beside the cord."""
    spot = Spot("return", "run", "ground", "trailer.frame")
    for near, far in pairwise(places):
        ohm = max(rig.trailer.frame_resistance_ohm_per_m * (far - near), LEAST_OHM)
        where = show_stretch(near, far, rig.units)
        name = slug(FRAME, "to", f"{far:.2f}m")
        element = Resistor(name, frame_node(far), frame_node(near), ohm)
        bench.add(element, "frame", f"trailer frame, {where} behind the junction", spot)
    nose, at = frame_node(0.0), spot.at("junction")
    ring = "ring of the trailer frame to the junction"
    bench.joint("frame_ring", (nose, junction_node("ground")), "ring-terminal", ring, at)
    if rig.trailer.hitch_path_ohm is not None:
        ohm = max(rig.trailer.hitch_path_ohm, LEAST_OHM)
        element = Resistor("hitch", nose, CHASSIS, ohm)
        bench.add(element, "frame", "ball and chains", spot.at("plug", "trailer.hitch"))
