"""What a person may try to change on a rig: each value of the job file that decides a part."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from loomwright.changes.mend_wires import place_words
from loomwright.electrics.answers import STATIONS, Part
from loomwright.electrics.wiring import wire_up
from loomwright.quantities import WireSize, show_length
from loomwright.reference.conductors import sizes
from loomwright.reference.fuses import ratings
from loomwright.reference.joints import joints
from loomwright.reference.lamps import Lamp, lamps
from loomwright.rig.job import Job
from loomwright.rig.job_places import JobValue, Subject, values_for
from loomwright.rig.model import FuseHolder, Rig
from loomwright.rig.places import read_path
from loomwright.rig.toml_text import read_toml, without_mark

NO_BREAK = "\u00a0"
SUBJECT_WORDS: Mapping[Subject, str] = {
    "size": "thickness",
    "length": "length",
    "joint": "kind of joint",
    "fuse": "fuse",
    "light": "lamp",
    "returns": "way home",
    "ground": "end of the ground wire",
    "back": "distance behind the junction",
}
SPLICES = ("sealed-butt", "butt", "step-down-butt", "solder-sleeve", "soldered", "wire-nut")
JOINTS = (*SPLICES, "piercing-tap", "terminal-block", "stud-block", "plug-in")
TYPED: frozenset[Subject] = frozenset({"length", "back", "light"})
"""What is typed and not chosen: any length, any lamp as written on its cap."""


@dataclass(frozen=True, slots=True)
class Option:
    """One thing it could be instead: what the job file says, and the words for it."""

    value: str
    words: str


@dataclass(frozen=True, slots=True)
class Changeable:
    """A value of the job file that decides a part.

    Parameters
    ----------
    path : str
        Where it stands.
    subject : str
        What it says of the part.
    station : str
        Station of the run the part belongs to.
    words : str
        What a person calls it.
    now : str
        What it is now, as a job file says it; "" if nothing is known of it.
    options : tuple of Option
        What it could be; empty where it is typed. A typed value may have suggestions.
    """

    path: str
    subject: Subject
    station: str
    words: str
    now: str
    options: tuple[Option, ...]

    @property
    def is_typed(self) -> bool:
        """Whether any text may be given."""
        return self.subject in TYPED


def changeables(rig: Rig, job: Job, text: str) -> tuple[Changeable, ...]:
    """Return everything that can be tried on a rig, along the run from the battery.

    Parameters
    ----------
    rig : Rig
        The rig.
    job : Job
        The job it was read from.
    text : str
        The job file's text.
    """
    written = read_toml(without_mark(text))
    found: dict[str, Changeable] = {}
    for part in wire_up(rig).parts.values():
        for value in values_for(part.ref, part.kind, job):
            if value.path not in found:
                found[value.path] = _changeable(rig, part, value, job, written)
    return tuple(sorted(found.values(), key=lambda each: STATIONS.index(each.station)))


def _changeable(
    rig: Rig, part: Part, value: JobValue, job: Job, written: Mapping[str, Any]
) -> Changeable:
    now = _now(rig, part, value) or str(_written(written, value.path) or "")
    options = tuple(_options(rig, part, value.subject))
    if now and options and value.subject != "light" and now not in {each.value for each in options}:
        options = (Option(now, now), *options)
    words = _words(part, value, job)
    return Changeable(value.path, value.subject, part.station, words, now, options)


def _words(part: Part, value: JobValue, job: Job) -> str:
    """Return what a person calls a value: the place and what it says, and whom it is shared by."""
    if value.subject == "returns":
        return "way home of every load"
    said = f"{_place(part, value)}: {SUBJECT_WORDS[value.subject]}"
    if value.path.startswith("trailer.brake["):
        return f"{said}, both magnets"
    found = re.match(r"trailer\.lamp\[(\d+)\]", value.path)
    is_pair = found is not None and len(job.trailer.lamps[int(found[1]) - 1].sides or ()) > 1
    return f"{said}, both sides" if is_pair else said


def _place(part: Part, value: JobValue) -> str:
    if part.kind == "wire" and part.station != "branch":
        return place_words(part.ref)
    if value.path == "trailer.junction":
        return "trailer junction"
    if value.path.startswith("socket[") and value.subject == "joint":
        return part.place.partition(",")[0]
    return part.place


def _now(rig: Rig, part: Part, value: JobValue) -> str:
    said = ""
    match value.subject:
        case "size":
            said = str(part.size or "")
        case "length" if part.length_m is not None:
            said = show_length(part.length_m, rig.units).replace(NO_BREAK, " ")
        case "joint":
            said = part.joint_kind or ""
        case "fuse":
            said = _fuse_text(_holder(rig, part.ref))
        case "returns":
            said = rig.trailer.returns.value
        case "ground":
            named = [each for each in rig.sockets if part.ref.startswith(f"socket.{each.name}.")]
            said = named[-1].ground_method.value.replace("-", " ") if named else ""
        case _:
            pass
    return said


def _holder(rig: Rig, ref: str) -> FuseHolder | None:
    if ref == "converter.feed":
        box = rig.converter
        return None if box is None or box.feed is None else box.feed.fuse
    feed = rig.vehicle.feed_for(ref.removeprefix("vehicle.feed."))
    return None if feed is None else feed.fuse


def _fuse_text(holder: FuseHolder | None) -> str:
    if holder is None:
        return "none"
    said = f"{holder.rating_a:g} A"
    return said if holder.kind == "medium" else f"{said} {holder.kind}"


def _options(rig: Rig, part: Part, subject: Subject) -> Iterator[Option]:
    match subject:
        case "size":
            size = part.size or WireSize("awg", "16")
            yield from (Option(str(each), str(each)) for each in sizes(size.system))
        case "joint":
            known = {row.key: row.title for row in joints()}
            yield from (Option(key, known[key]) for key in JOINTS if key in known)
        case "fuse":
            made = (f"{rating:g} A" for rating in ratings("medium"))
            yield from (Option(each, each.replace(" ", "\u00a0")) for each in made)
            yield Option("none", "no fuse")
        case "light":
            system_v = round(rig.trailer.nominal_v)
            bulbs = [row for row in lamps() if row.system_v == system_v]
            yield from (Option(each, each) for row in bulbs for each in _bulb_texts(row.key, row))
            yield Option("LED", "LED")
        case "returns":
            yield Option("wire", "a ground wire to every load")
            yield Option("frame", "the trailer's frame")
        case "ground":
            yield Option("own ring", "a ring of its own on the frame")
            yield Option("old wire", "joined to the old ground wire")
        case _:
            return


def _bulb_texts(key: str, row: Lamp) -> tuple[str, ...]:
    if "single" in row.filaments:
        return (key,)
    return tuple(f"{key} {filament}" for filament in row.filaments)


def _written(node: Any, path: str) -> Any:
    """Return what the job file says at a path, None if it says nothing."""
    for step in read_path(path):
        in_table = isinstance(node, Mapping) and isinstance(step, str) and step in node
        in_list = isinstance(node, list) and isinstance(step, int) and step < len(node)
        if not in_table and not in_list:
            return None
        node = node[step]
    return node
