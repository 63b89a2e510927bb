"""What the load check shows: the worst loads and where their volts go, brakes, charge, fuses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from loomwright.checks.readings import load_name
from loomwright.checks.rule import Work
from loomwright.checks.words import circuit, command_title
from loomwright.drawing.folded_ladder import drop_bar, folded_ladder
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.quantities import show_current, show_share, show_voltage
from loomwright.reference.brakes import magnet
from loomwright.reference.limits import limit
from loomwright.rig.model import Rig

MOST_WORST = 6
MOST_BUSY = 8
EVERYTHING = "all"


@dataclass(frozen=True, slots=True)
class WorstLoad:
    """The worst load of a circuit under the command that is hardest on it."""

    name: str
    circuit: str
    command: str
    volts: str
    strength: str
    word: str
    lost: str
    path: str
    bar: Markup
    ladder: Markup


@dataclass(frozen=True, slots=True)
class MagnetRow:
    """One brake magnet at full output."""

    name: str
    path: str
    volts: str
    amps: str
    share: str


@dataclass(frozen=True, slots=True)
class ChargeRow:
    """The charge line under one set of conditions."""

    conditions: str
    volts: str
    amps: str
    lost: str


@dataclass(frozen=True, slots=True)
class BusyRow:
    """A fuse or a conductor and how much of what it may carry it carries."""

    place: str
    path: str
    amps: str
    limit: str
    share: str
    is_over: bool
    command: str


@dataclass(frozen=True, slots=True)
class LoadCheck:
    """The load check of a rig under one set of conditions."""

    worst: tuple[WorstLoad, ...]
    magnets: tuple[MagnetRow, ...]
    charge: tuple[ChargeRow, ...]
    fuses: tuple[BusyRow, ...]
    wires: tuple[BusyRow, ...]


def load_check(work: Work, base: str, under: str) -> LoadCheck:
    """Return the load check of a rig.

    Parameters
    ----------
    work : Work
        The solved rig.
    base : str
        Address of the run's screen.
    under : str
        Key of the conditions.
    """
    return LoadCheck(
        worst=tuple(_worst(work, base, under)),
        magnets=tuple(_magnets(work, base, under)),
        charge=tuple(_charge(work)),
        fuses=tuple(_fuses(work, base, under))[:MOST_BUSY],
        wires=tuple(_wires(work, base, under))[:MOST_BUSY],
    )


def _cases(work: Work, under: str) -> Iterator[CommandAnswer]:
    for command in work.answers.commands:
        yield work.answers.at(command, under)


def _place(base: str, element: str, command: str, under: str) -> str:
    return f"{base}/{element}?do={command.replace('+', '%2B')}&under={under}"


def _worst(work: Work, base: str, under: str) -> Iterator[WorstLoad]:
    """Yield the worst load of each circuit, the one that loses most of its volts first."""
    found: dict[str, tuple[float, CommandAnswer, LoadAnswer]] = {}
    for case in _cases(work, under):
        for load in case.loads:
            is_ours = load.kind not in ("vehicle lamp", "trigger")
            if not is_ours or not load.commanded or load.floating or case.command == EVERYTHING:
                continue
            lost = _lost_share(load)
            if load.function not in found or lost > found[load.function][0]:
                found[load.function] = lost, case, load
    ranked = sorted(found.values(), key=lambda each: -each[0])[:MOST_WORST]
    for lost, case, load in ranked:
        yield WorstLoad(
            name=load_name(work.rig, load),
            circuit=circuit(load.function),
            command=command_title(case.command),
            volts=show_voltage(load.voltage_v),
            strength=_strength(load),
            word=load.word,
            lost=show_share(round(lost, 2)),
            path=_place(base, load.element, case.command, under),
            bar=Markup(drop_bar(load)),  # noqa: S704 the drawing escapes its text
            ladder=Markup(folded_ladder(load)),  # noqa: S704 the drawing escapes its text
        )


def _lost_share(load: LoadAnswer) -> float:
    total = load.supply_drop_v + load.voltage_v + load.return_drop_v
    return (load.supply_drop_v + load.return_drop_v) / total if total > 0 else 0.0


def _strength(load: LoadAnswer) -> str:
    if load.light_share is None:
        return show_current(load.current_a)
    return f"{show_share(round(load.light_share, 2))} of its light"


def _magnets(work: Work, base: str, under: str) -> Iterator[MagnetRow]:
    """Yield each magnet under the command that gives the brakes most."""
    best: CommandAnswer | None = None
    for case in _cases(work, under):
        if best is None or _brake_a(case) > _brake_a(best):
            best = case
    for load in () if best is None or _brake_a(best) <= 0 else best.loads:
        if load.kind == "brake" and best is not None:
            usual_a = _usual_a(work.rig, load)
            yield MagnetRow(
                load.name,
                _place(base, load.element, best.command, under),
                show_voltage(load.voltage_v),
                show_current(load.current_a),
                f"{show_share(round(load.current_a / usual_a, 2))} of {show_current(usual_a)}",
            )


def _brake_a(case: CommandAnswer) -> float:
    return sum(load.current_a for load in case.loads if load.kind == "brake")


def _usual_a(rig: Rig, load: LoadAnswer) -> float:
    brake = next(each for each in rig.trailer.brakes if each.name == load.name)
    return magnet(brake.size_in).manual_a


def _charge(work: Work) -> Iterator[ChargeRow]:
    """Yield what the trailer battery gets under each set of conditions."""
    battery = work.rig.trailer.battery
    if battery is None or "charge" not in work.answers.commands:
        return
    for under in work.answers.conditions:
        for load in work.answers.at("charge", under).loads:
            if load.kind == "battery":
                lost_v = load.supply_drop_v + load.return_drop_v
                amps = "nothing" if load.word == "off" else show_current(load.current_a)
                yield ChargeRow(under, show_voltage(load.voltage_v), amps, show_voltage(lost_v))


def _fuses(work: Work, base: str, under: str) -> list[BusyRow]:
    worst: dict[str, tuple[float, BusyRow]] = {}
    most = limit("fuse-continuous").share
    for case in _cases(work, under):
        for fuse in case.fuses:
            row = BusyRow(
                fuse.place,
                _place(base, fuse.element, case.command, under),
                show_current(fuse.current_a),
                show_current(fuse.rating_a),
                "open" if fuse.opened else show_share(round(fuse.share, 2)),
                fuse.opened or fuse.share > most,
                command_title(case.command),
            )
            _keep(worst, fuse.element, fuse.share, row)
    return _ranked(worst)


def _wires(work: Work, base: str, under: str) -> list[BusyRow]:
    worst: dict[str, tuple[float, BusyRow]] = {}
    most = limit("conductor-load").share
    for case in _cases(work, under):
        for wire in case.conductors:
            part = wire.part
            row = BusyRow(
                f"{part.place} ({part.size})",
                _place(base, part.element, case.command, under),
                show_current(abs(wire.current_a)),
                show_current(wire.ampacity_a),
                show_share(round(wire.share, 2)),
                wire.share > most,
                command_title(case.command),
            )
            _keep(worst, f"{part.ref} {part.path}", wire.share, row)
    return _ranked(worst)


def _keep(worst: dict[str, tuple[float, BusyRow]], key: str, share: float, row: BusyRow) -> None:
    if key not in worst or share > worst[key][0]:
        worst[key] = share, row


def _ranked(worst: dict[str, tuple[float, BusyRow]]) -> list[BusyRow]:
    return [row for _, row in sorted(worst.values(), key=lambda each: -each[0])]
