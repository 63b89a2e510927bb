"""Where a part of the rig stands in its job file: the paths of the values that describe it.

Parts are named as the circuit refers to them, such as ``socket.bed 7-way.lead.tail``; paths are
those of `edit.write_value`, such as ``socket[2].lead.tail.size``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from loomwright.rig.assemble_sockets import socket_names
from loomwright.rig.job import Job

Subject = Literal["size", "length", "joint", "fuse", "light", "returns", "ground", "back"]
"""What a value says of a part. `ground` is how a socket's ground ends, `back` a load's place."""


@dataclass(frozen=True, slots=True)
class JobValue:
    """A value of a job file that describes a part: what it says, and its path."""

    subject: Subject
    path: str


def values_for(ref: str, kind: str, job: Job) -> tuple[JobValue, ...]:
    """Return the values of a job file that decide what a part is.

    Parameters
    ----------
    ref : str
        How the circuit refers to the part.
    kind : str
        ``wire``, ``joint``, ``contact``, ``fuse``, ``frame`` or ``load``.
    job : Job
        The job.

    Returns
    -------
    tuple of JobValue
        None for a part that the job file says nothing of. A pair of lamps has one value for both.
    """
    return tuple(_values(ref, kind, job))


def job_path(ref: str, job: Job) -> str | None:
    """Return the path of the table that describes a part, or None if there is none of its own."""
    found = next(_values(ref, "wire", job), None) or next(_values(ref, "load", job), None)
    if found is None:
        return None
    return found.path.rpartition(".")[0] if found.subject == "size" else found.path


def _values(ref: str, kind: str, job: Job) -> Iterator[JobValue]:
    side, _, rest = ref.partition(".")
    if side == "vehicle":
        yield from _vehicle(rest, kind, job)
    elif side == "converter":
        yield from _converter(rest, kind)
    elif side == "socket":
        yield from _socket(rest, kind, job)
    elif side == "trailer":
        yield from _trailer(rest, kind, job)


def _wire(base: str) -> Iterator[JobValue]:
    yield JobValue("size", f"{base}.size")
    yield JobValue("length", f"{base}.length")


def _vehicle(rest: str, kind: str, job: Job) -> Iterator[JobValue]:
    if rest == "ground" and kind == "wire":
        yield from _wire("vehicle.ground")
    what, _, function = rest.partition(".")
    numbers = [n for n, feed in enumerate(job.vehicle.feeds, 1) if feed.function == function]
    if what != "feed" or not numbers:
        return
    base = f"vehicle.feed[{numbers[0]}]"
    if kind == "fuse":
        yield JobValue("fuse", f"{base}.fuse")
    elif kind == "wire":
        yield from _wire(base)


def _converter(rest: str, kind: str) -> Iterator[JobValue]:
    if rest == "feed" and kind == "fuse":
        yield JobValue("fuse", "converter.feed.fuse")
    elif rest in ("feed", "ground") and kind == "wire":
        yield from _wire(f"converter.{rest}")
    elif rest.startswith("input.") and kind == "joint":
        yield JobValue("joint", "converter.joint")


def _socket(rest: str, kind: str, job: Job) -> Iterator[JobValue]:
    for number, name in enumerate(socket_names(job), 1):
        if not rest.startswith(f"{name}."):
            continue
        what, _, function = rest.removeprefix(f"{name}.").partition(".")
        base = f"socket[{number}]"
        if kind == "joint":
            yield JobValue("joint", f"{base}.joint")
        if what == "ground":
            if kind == "joint":
                yield JobValue("ground", f"{base}.ground")
            else:
                yield from _wire(f"{base}.ground_wire")
        elif what == "lead" and kind == "wire":
            yield from _wire(f"{base}.lead.{function}")


def _trailer(rest: str, kind: str, job: Job) -> Iterator[JobValue]:
    what, _, name = rest.partition(".")
    if what == "cord" and kind == "wire":
        yield from _wire(f"trailer.cord.{name}")
    elif what == "run" and kind == "wire":
        yield JobValue("size", f"trailer.run.{name}")
    elif what == "junction" and kind in ("joint", "contact"):
        yield JobValue("joint", "trailer.junction")
    elif what == "frame":
        yield JobValue("returns", "trailer.returns")
    elif what in ("lamp", "brake", "battery", "appliance"):
        yield from _load(what, name, kind, job)


def _load(what: str, name: str, kind: str, job: Job) -> Iterator[JobValue]:
    base, part = _load_table(what, name, job)
    if base is None:
        return
    is_ground = part == "ground"
    if kind == "wire":
        yield from _wire(f"{base}.ground" if is_ground else f"{base}.branch")
    elif kind == "joint":
        yield JobValue("joint", f"{base}.joint")
    elif kind == "load":
        if what == "lamp" and part:
            yield JobValue("light", f"{base}.lights.{part}")
        yield JobValue("back", f"{base}.back")


def _load_table(what: str, name: str, job: Job) -> tuple[str | None, str]:
    """Return the table of a load, and what of it is meant: its ground, or one of its lights."""
    named = list(_named(what, job))
    for table, known in sorted(named, key=lambda each: -len(each[1])):
        if name == known:
            return table, ""
        if name.startswith(f"{known}.") if known else True:
            return table, name.removeprefix(known).removeprefix(".")
    return None, ""


def _named(what: str, job: Job) -> Iterator[tuple[str, str]]:
    """Yield the tables of one kind of load with the names their loads go by."""
    trailer = job.trailer
    if what == "battery" and trailer.battery is not None:
        yield "trailer.battery", ""
    if what == "lamp":
        for number, lamp in enumerate(trailer.lamps, 1):
            name, table = lamp.name or f"lamp {number}", f"trailer.lamp[{number}]"
            for side in lamp.sides or ("",):
                yield table, f"{side} {name}".strip()
    if what == "brake":
        for number, brake in enumerate(trailer.brakes, 1):
            for side in ("left", "right"):
                axle = brake.axle or number
                yield f"trailer.brake[{number}]", f"{side} brake, axle {axle}"
    if what == "appliance":
        for number, appliance in enumerate(trailer.appliances, 1):
            yield f"trailer.appliance[{number}]", appliance.name or f"appliance {number}"
