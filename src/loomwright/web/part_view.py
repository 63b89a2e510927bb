"""What the run shows of one place: its parts, their numbers, what they stand on, what to change."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from loomwright.changes.changeable import SUBJECT_WORDS
from loomwright.checks.located import Location
from loomwright.checks.rule import Finding, Work
from loomwright.colours import Colour
from loomwright.drawing.function_words import function_words
from loomwright.electrics.answers import CommandAnswer, LoadAnswer, Part
from loomwright.electrics.wiring import wire_up
from loomwright.quantities import (
    show_current,
    show_length,
    show_power,
    show_resistance,
    show_share,
    show_voltage,
)
from loomwright.reference.joints import joint
from loomwright.rig.job_places import JobValue, values_for
from loomwright.rig.model import Assumption, Rig
from loomwright.rig.read import read_job
from loomwright.rig.toml_text import read_toml, without_mark
from loomwright.web.describing.parts import place_of, questions_at
from loomwright.web.part_origins import Origin, origins


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with its name; `beside` is what it is compared with."""

    what: str
    value: str
    beside: str = ""


@dataclass(frozen=True, slots=True)
class PartFigures:
    """One part of a place and its numbers under the command."""

    title: str
    kind: str
    figures: tuple[Figure, ...]
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class ToChange:
    """A value of the job file that decides the place, to be tried or described anew."""

    words: str
    path: str


@dataclass(frozen=True, slots=True)
class PartView:
    """One place of the run."""

    element: str
    title: str
    circuit: str
    station: str
    colour: Colour | None
    has_colour: bool
    main: tuple[Figure, ...]
    parts: tuple[PartFigures, ...]
    findings: tuple[Finding, ...]
    assumptions: tuple[Assumption, ...]
    changes: tuple[ToChange, ...]
    described_at: str


def part_view(
    work: Work,
    text: str,
    element: str,
    answer: CommandAnswer,
    located: Sequence[tuple[Finding, Location]],
) -> PartView:
    """Return the view of the place an element belongs to.

    Parameters
    ----------
    work : Work
        The solved rig.
    text : str
        The job file it was read from.
    element : str
        Which one.
    answer : CommandAnswer
        Readings of the command.
    located : sequence of (Finding, Location)
        Every finding, and where it is.

    Raises
    ------
    KeyError
        If there is no such part.
    """
    parts = wire_up(work.rig).parts
    part = parts[element]
    job = read_job(text)
    mine = [each for each in parts.values() if _same_place(each, part)]
    mine.sort(key=lambda each: each.element != element)
    values = {value.path: value for each in mine for value in values_for(each.ref, each.kind, job)}
    colour = _colour(part, work.rig)
    names = {each.element for each in mine}
    return PartView(
        element=element,
        title=f"{part.place[:1].upper()}{part.place[1:]}",
        circuit=function_words(part.function),
        station=part.station,
        colour=colour,
        has_colour=part.kind == "wire",
        main=tuple(_main(part, answer, work)),
        parts=tuple(_figures(each, answer, work) for each in mine),
        findings=tuple(found for found, place in located if place.element in names),
        assumptions=_assumed(work.rig, values.values()),
        changes=tuple(_change(each) for each in values.values()),
        described_at=_described_at(next(iter(values), ""), text),
    )


def _same_place(one: Part, other: Part) -> bool:
    if other.station in ("load", "branch"):
        return one.ref == other.ref and one.path == other.path
    same = one.ref, one.station, one.path
    return same == (other.ref, other.station, other.path) and one.function == other.function


def _main(part: Part, answer: CommandAnswer, work: Work) -> Iterator[Figure]:
    """Yield the numbers that matter most, to be read large."""
    load = next((each for each in answer.loads if each.element == part.element), None)
    if load is not None:
        yield from _load_main(load, work)
        return
    wire = next((each for each in answer.conductors if each.part.element == part.element), None)
    if wire is not None:
        yield Figure("current", show_current(wire.current_a), f"of {show_current(wire.ampacity_a)}")
        yield Figure("lost here", show_voltage(_all_drop_v(part, answer)))
    fuse = next((each for each in answer.fuses if each.element == part.element), None)
    if fuse is not None:
        yield Figure("current", show_current(fuse.current_a), f"of {show_current(fuse.rating_a)}")
        if fuse.opened:
            yield Figure("state", "open")
    made = next((each for each in answer.joints if each.part.element == part.element), None)
    if made is not None:
        yield Figure("lost here", show_voltage(made.drop_v))
        yield Figure("current", show_current(made.current_a))
    if part.kind == "supply":
        yield Figure("at the battery", show_voltage(answer.supply_v))
        yield Figure("current", show_current(answer.supply_current_a))


def _all_drop_v(part: Part, answer: CommandAnswer) -> float:
    """Return what all pieces of a conductor drop together. [V]"""
    return sum(
        each.drop_v
        for each in answer.conductors
        if each.part.ref == part.ref and each.part.station == part.station
    )


def _load_main(load: LoadAnswer, work: Work) -> Iterator[Figure]:
    total = load.supply_drop_v + load.voltage_v + load.return_drop_v
    if load.floating:
        yield Figure("state", "not connected")
        return
    yield Figure("at the load", show_voltage(load.voltage_v), f"of {show_voltage(total)}")
    if load.light_share is None:
        yield Figure("current", show_current(load.current_a), load.word)
    else:
        yield Figure("light", show_share(round(load.light_share, 2)), load.word)
    yield Figure("lost on the way", show_voltage(load.supply_drop_v))
    yield Figure("lost on the way home", show_voltage(load.return_drop_v))


def _figures(part: Part, answer: CommandAnswer, work: Work) -> PartFigures:
    return PartFigures(
        f"{part.place[:1].upper()}{part.place[1:]}",
        part.kind,
        tuple(_numbers(part, answer, work)),
        origins(part, work.rig),
    )


def _numbers(part: Part, answer: CommandAnswer, work: Work) -> Iterator[Figure]:
    if part.size is not None and part.length_m is not None:
        long = show_length(part.length_m, work.rig.units)
        yield Figure("wire", f"{part.size}, {long}".replace(" AWG", "\u00a0AWG"))
    for wire in answer.conductors:
        if wire.part.element == part.element:
            yield Figure("drop", show_voltage(wire.drop_v))
            share = show_share(round(wire.share, 2))
            yield Figure("load", share, f"of the {show_current(wire.ampacity_a)} it may carry")
    for made in answer.joints:
        if made.part.element == part.element:
            if part.joint_kind is not None:
                yield Figure("kind", joint(part.joint_kind).title)
            ohm = show_resistance(made.resistance_ohm)
            yield Figure("drop", show_voltage(made.drop_v), f"at {ohm}")
            yield Figure("heat", show_power(made.heat_w))
    for fuse in answer.fuses:
        if fuse.element == part.element:
            yield Figure("rating", show_current(fuse.rating_a), f"{fuse.kind} blade")
            yield Figure("load", show_share(round(fuse.share, 2)), "of its rating")


def _colour(part: Part, rig: Rig) -> Colour | None:
    """Return the insulation of a conductor, where it is known."""
    function = part.function
    for feed in rig.vehicle.feeds:
        if part.ref == f"vehicle.feed.{feed.function}":
            return feed.wire.colour
    for socket in rig.sockets:
        if part.ref == f"socket.{socket.name}.ground":
            return socket.ground.colour
        if part.ref.startswith(f"socket.{socket.name}.lead."):
            wire = socket.wire_for(function)
            return None if wire is None else wire.wire.colour
    if part.ref.startswith("trailer.cord."):
        core = rig.trailer.cord_wire_for(function)
        return None if core is None else core.wire.colour
    if part.ref == "converter.feed" and rig.converter is not None and rig.converter.feed:
        return rig.converter.feed.wire.colour
    return None


def _assumed(rig: Rig, values: Iterable[JobValue]) -> tuple[Assumption, ...]:
    paths = [value.path for value in values]
    return tuple(
        each
        for each in rig.assumptions
        if any(each.field == path or each.field.startswith(f"{path}.") for path in paths)
    )


def _described_at(path: str, text: str) -> str:
    """Return what follows the address of the description for a path; "" if nothing asks for it."""
    if not path:
        return ""
    data = read_toml(without_mark(text))
    place = place_of(path, data)
    if place is None:
        return ""
    mark = next((one.mark for one in questions_at(place, data) if one.path == path), "")
    return place.address + (f"#q-{mark}" if mark else "")


def _change(value: JobValue) -> ToChange:
    return ToChange(SUBJECT_WORDS[value.subject], value.path)
