"""Mends by wire: thicker where it drops or warms too much, a ground as thick as its feeds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from loomwright.changes.change import Change, Edit
from loomwright.checks.readings import DIM, HEAVY, NOMINAL
from loomwright.checks.remedy import (
    HANDY_SHARE,
    MOST_WIRES,
    alone_a,
    size_carrying,
    size_with_share,
)
from loomwright.checks.rule import Finding, Severity, Work
from loomwright.checks.words import circuit, listed
from loomwright.electrics.answers import CommandAnswer, LoadAnswer, Path, Rung
from loomwright.quantities import WireSize
from loomwright.reference.brakes import least_brake_wire
from loomwright.reference.conductors import area_mm2
from loomwright.reference.connectors import connector
from loomwright.rig.job import Job
from loomwright.rig.job_places import values_for
from loomwright.rig.model import Returns, Rig

CLOSE = 1e-9
NEAR_ENOUGH = 0.88
"""SAE wire holds up to 11 % less copper than AWG of its number, and counts as the same."""

Sizes = dict[str, WireSize]
"""The size each wire is to have, by how the circuit refers to it."""


def thicker_out(finding: Finding, work: Work, job: Job) -> Change | None:
    """Make the way out to the load of a finding thicker."""
    return _thicker(finding, work, job, "supply", "supply_drop_v")


def thicker_home(finding: Finding, work: Work, job: Job) -> Change | None:
    """Make the way home thicker."""
    return _thicker(finding, work, job, "return", "return_drop_v")


def thicker_to_load(finding: Finding, work: Work, job: Job) -> Change | None:
    """Make the wires thicker that drop most on the way to a load and back."""
    return _thicker(finding, work, job, None, "voltage_v")


def brake_wire(finding: Finding, work: Work, job: Job) -> Change | None:
    """Bring the brake wire of cord and run to the usual least."""
    trailer = work.rig.trailer
    far_m = max((brake.back_m for brake in trailer.brakes), default=0.0)
    row = least_brake_wire(len(trailer.brakes), far_m)
    if row is None:
        return None
    least = WireSize("awg", row.awg)
    there = {"trailer.run.brake": trailer.run.get("brake")}
    cord = trailer.cord_wire_for("brake")
    there["trailer.cord.brake"] = None if cord is None else cord.wire.size
    thin = [ref for ref, size in there.items() if size is not None and _is_thinner(size, least)]
    return resized(dict.fromkeys(sorted(thin), least), job)


def thick_grounds(finding: Finding, work: Work, job: Job) -> Change | None:
    """Make each ground as thick as the thickest feed it brings home."""
    rig = work.rig
    sizes: Sizes = {}
    for socket in rig.sockets:
        wires = {wire.pin: (wire.function, wire.wire.size) for wire in socket.lead}
        ground = connector(socket.connector).pins_for("ground")
        wires |= {pin.number: ("ground", socket.ground.size) for pin in ground[:1]}
        for function, size in _thick(socket.connector, wires).items():
            part = "ground" if function == "ground" else f"lead.{function}"
            sizes[f"socket.{socket.name}.{part}"] = size
    cord = {wire.pin: (wire.function, wire.wire.size) for wire in rig.trailer.cord}
    run = {
        pin: (function, rig.trailer.run[function])
        for pin, (function, _) in cord.items()
        if function in rig.trailer.run
    }
    for place, wires in (("cord", cord), ("run", run)):
        for function, size in _thick(rig.trailer.plug, wires).items():
            sizes[f"trailer.{place}.{function}"] = size
    return resized(sizes, job)


def carrying(finding: Finding, work: Work, job: Job) -> Change | None:
    """Make every wire of an overloaded circuit thick enough for what it carries."""
    sizes: Sizes = {}
    for conditions in (NOMINAL, HEAVY):
        for command in work.answers.commands:
            case = work.answers.at(command, conditions)
            circuits = {
                (each.part.function, each.part.path)
                for each in case.conductors
                if each.part.place == finding.where
            }
            for wire in case.conductors:
                part = wire.part
                if (part.function, part.path) not in circuits or wire.share <= 1.0:
                    continue
                kept = min(wire.ampacity_a / alone_a(wire), 1.0)
                size = part.size or WireSize("awg", "14")
                wanted = size_carrying(size, abs(wire.current_a), part.insulation, kept)
                if wanted is None:
                    return None
                sizes[part.ref] = max(wanted, sizes.get(part.ref, wanted), key=area_mm2)
    return resized(sizes, job)


def returns_by_wire(finding: Finding, work: Work, job: Job) -> Change | None:
    """Lead every load home by a ground wire as thick as the thickest feed."""
    trailer = work.rig.trailer
    fed = [size for function, size in trailer.run.items() if function != "ground"]
    if trailer.returns is not Returns.FRAME or not fed:
        return None
    size = max(fed, key=area_mm2)
    kept = trailer.run.get("ground", size)
    wanted = max(size, kept, key=area_mm2)
    return Change(
        f"Run {wanted} as a ground wire along the trailer to every load, and bond it to the "
        "frame at one place.",
        (Edit("trailer.returns", "wire"), Edit("trailer.run.ground", str(wanted))),
    )


def _thicker(finding: Finding, work: Work, job: Job, path: Path | None, what: str) -> Change | None:
    found = _load_of(finding, work, what)
    if found is None or finding.value is None or finding.limit is None:
        return None
    rungs = [rung for rung in found.ladder if path is None or rung.part.path == path]
    excess_v = max(abs(finding.value - finding.limit), 0.1)
    return resized(_with_other_side(work.rig, _thick_enough(rungs, excess_v, job)), job)


def _load_of(finding: Finding, work: Work, what: str) -> LoadAnswer | None:
    """Return the reading a finding was made from."""
    graded = finding.severity is Severity.SHOULD
    for conditions in (DIM, NOMINAL) if graded else (NOMINAL, DIM):
        case: CommandAnswer | None = work.answers.by_case.get((finding.command, conditions))
        for load in () if case is None else case.loads:
            if finding.value is not None and abs(getattr(load, what) - finding.value) < CLOSE:
                return load
    return None


def _thick_enough(rungs: Iterable[Rung], excess_v: float, job: Job) -> Sizes:
    """Return the fewest wires to make thicker, and to what, so that so much is saved.

    As in the words of the finding: each drops at least `HANDY_SHARE` of what it did.
    """
    wires = _by_wire(rungs, job)
    for count in range(1, min(len(wires), MOST_WIRES) + 1):
        dropped_v = sum(drop_v for _, _, drop_v in wires[:count])
        share = 1 - excess_v / dropped_v
        if HANDY_SHARE <= share < 1:
            return dict(_sized(wires[:count], share))
    return dict(_sized(wires[:MOST_WIRES], HANDY_SHARE))


def _by_wire(rungs: Iterable[Rung], job: Job) -> list[tuple[str, WireSize, float]]:
    """Wires that the job file can change, with size and drop, the worst first."""
    drops: dict[tuple[str, WireSize], float] = {}
    for rung in rungs:
        part = rung.part
        if part.kind != "wire" or part.size is None or rung.drop_v <= 0:
            continue
        if values_for(part.ref, "wire", job):
            key = part.ref, part.size
            drops[key] = drops.get(key, 0.0) + rung.drop_v
    return sorted(((*key, drop_v) for key, drop_v in drops.items()), key=lambda each: -each[2])


def _sized(
    wires: Sequence[tuple[str, WireSize, float]], share: float
) -> Iterator[tuple[str, WireSize]]:
    for ref, size, _ in wires:
        wanted = size_with_share(size, share)
        if wanted is not None:
            yield ref, wanted


def _with_other_side(rig: Rig, sizes: Sizes) -> Sizes:
    """Do the same on the other side where a wire is one of left and right."""
    both = dict(sizes)
    for ref, size in sizes.items():
        other = _mirrored(ref)
        if other != ref and other not in both and _has(rig, other):
            both[other] = size
    return both


def _mirrored(ref: str) -> str:
    """Return the same circuit of the other side; only the function at the end is turned."""
    head, dot, function = ref.rpartition(".")
    if not any(place in head for place in ("feed", "lead", "cord", "run")):
        return ref
    if "left" in function:
        return f"{head}{dot}{function.replace('left', 'right')}"
    return f"{head}{dot}{function.replace('right', 'left')}"


def _has(rig: Rig, ref: str) -> bool:
    function = ref.rpartition(".")[2]
    if ref.startswith("vehicle.feed."):
        return rig.vehicle.feed_for(function) is not None
    if ref.startswith("socket."):
        named = [each for each in rig.sockets if ref.startswith(f"socket.{each.name}.lead.")]
        return any(each.wire_for(function) for each in named)
    return rig.trailer.cord_wire_for(function) is not None


def _thick(key: str, wires: Mapping[str, tuple[str, WireSize]]) -> Sizes:
    """Return the returns of a connector that are thinner than what they bring home."""
    found: Sizes = {}
    for pin in connector(key).pins:
        fed = [wires[number][1] for number in pin.returns_for if number in wires]
        if pin.number not in wires or not fed:
            continue
        function, size = wires[pin.number]
        thickest = max(fed, key=area_mm2)
        if _is_thinner(size, thickest):
            found[function] = thickest
    return found


def _is_thinner(size: WireSize, least: WireSize) -> bool:
    return area_mm2(size) < NEAR_ENOUGH * area_mm2(least)


def resized(sizes: Mapping[str, WireSize], job: Job) -> Change | None:
    """Return the change that gives each wire its size, by how the circuit refers to it."""
    edits, said = [], []
    for ref, size in sizes.items():
        paths = [each.path for each in values_for(ref, "wire", job) if each.subject == "size"]
        edits += [Edit(path, str(size)) for path in paths]
        said += [f"{size} as {place_words(ref)}"] if paths else []
    if not edits:
        return None
    return Change(f"Run {listed(said, most=8)}.", tuple(edits))


def place_words(ref: str) -> str:
    """Return what a person calls a wire of the rig."""
    side, _, rest = ref.partition(".")
    what, _, name = rest.partition(".")
    if side == "socket":
        lead, _, function = rest.rpartition(".lead.")
        named = f"{lead} lead, {circuit(function)}"
        return named if lead else f"{rest.removesuffix('.ground')} ground wire"
    if side == "trailer":
        if what in ("cord", "run"):
            return f"{what}, {circuit(name)}"
        end = "ground wire" if name.endswith(".ground") else "branch"
        return f"{name.removesuffix('.ground')} {end}"
    if side == "vehicle" and what == "feed":
        return f"{feed_words(name)} wire"
    return "the vehicle's ground wire" if side == "vehicle" else f"the converter's {what} wire"


def feed_words(function: str) -> str:
    """Return the name of a feed, ``tail lamps feed`` or ``battery feed``."""
    return f"{circuit(function).removesuffix(' feed')} feed"
