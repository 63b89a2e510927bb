"""What the run's screen shows: commands, conditions, both drawings, and the same as a table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from markupsafe import Markup

from loomwright.checks.located import Location, locate
from loomwright.checks.rule import Finding, Work
from loomwright.drawing.folded import folded_circuits
from loomwright.drawing.run import run_drawing
from loomwright.drawing.run_marks import PartMark
from loomwright.electrics.answers import STATIONS, CommandAnswer, LoadAnswer, Part
from loomwright.electrics.commands import Command, commands_for
from loomwright.electrics.conditions import Conditions, conditions_for
from loomwright.electrics.wiring import wire_up
from loomwright.invalid import InvalidInput
from loomwright.quantities import show_current, show_share, show_voltage

TELLING = ("park+brake_pedal", "park", "brake_pedal")
"""Commands to begin with, the most telling first."""

SEEN_ABOVE_A = 0.005
CONDITION_WORDS = {
    "nominal": "normal",
    "dim": "weakest",
    "heavy": "heaviest",
    "engine-off": "engine off",
}
"""Short words for a set of conditions; what they are is said beside the choice."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few things to choose: its key, its words, where it leads, whether it holds."""

    key: str
    words: str
    path: str
    holds: bool
    says: str = ""


@dataclass(frozen=True, slots=True)
class FoldedCircuit:
    """One circuit of the folded run, and whether it carries current under the command."""

    key: str
    title: str
    says: str
    is_live: bool
    svg: Markup


@dataclass(frozen=True, slots=True)
class Row:
    """One part on the way, for those who read the run as a table."""

    element: str
    path: str
    place: str
    station: str
    volts: str
    amps: str


@dataclass(frozen=True, slots=True)
class LoadRow:
    """One load, for those who read the run as a table."""

    path: str
    name: str
    volts: str
    amps: str
    light: str
    word: str


@dataclass(frozen=True, slots=True)
class Moment:
    """What the driver does and under which conditions, what is read then, and where it is wrong.

    `link` is the address of a place of the run then, with ``{part}``.
    """

    command: Command
    conditions: Conditions
    answer: CommandAnswer
    here: tuple[tuple[Finding, Location], ...]
    base: str
    link: str


@dataclass(frozen=True, slots=True)
class Energised:
    """The run at one moment: both drawings, the same as tables, and what else can be chosen."""

    commands: tuple[Choice, ...]
    under: tuple[Choice, ...]
    wide: Markup
    live: tuple[FoldedCircuit, ...]
    dead: tuple[FoldedCircuit, ...]
    loads: tuple[LoadRow, ...]
    rows: tuple[Row, ...]
    says: str


def moment_of(
    work: Work, findings: Sequence[Finding], base: str, do: str = "", under: str = ""
) -> Moment:
    """Return what is read on a rig under a command.

    Parameters
    ----------
    work : Work
        The solved rig.
    findings : sequence of Finding
        What was found on it.
    base : str
        Address of the run's screen.
    do, under : str
        Keys of the command and the conditions; "" for those to begin with.

    Raises
    ------
    InvalidInput
        If there is no such command or no such conditions.
    """
    command, conditions = chosen_command(work, do), chosen_conditions(work, under)
    parts = wire_up(work.rig).parts
    return Moment(
        command=command,
        conditions=conditions,
        answer=work.answers.at(command.key, conditions.key),
        here=tuple((finding, locate(finding, parts)) for finding in findings),
        base=base,
        link=f"{base}/{{part}}?{query(command.key, conditions.key)}",
    )


def energised(work: Work, moment: Moment) -> Energised:
    """Return the run of a rig at a moment."""
    marks, answer, link = marks_of(moment.here), moment.answer, moment.link
    folded = _folded(work, answer, marks, link)
    return Energised(
        commands=_commands(work, moment),
        under=_under(work, moment),
        wide=_wide(work, moment, marks),
        live=tuple(each for each in folded if each.is_live),
        dead=tuple(each for each in folded if not each.is_live),
        loads=tuple(_load_row(load, link) for load in answer.loads if load.kind != "trigger"),
        rows=tuple(_rows(answer, wire_up(work.rig).parts, link)),
        says=in_words(moment.command, answer),
    )


def query(do: str, under: str) -> str:
    """Return the part of an address that says command and conditions."""
    return urlencode({"do": do, "under": under})


def chosen_command(work: Work, key: str) -> Command:
    """Return the command of a key, or the most telling one."""
    known = commands_for(work.rig)
    if not key:
        by_key = {each.key: each for each in known}
        return next((by_key[each] for each in TELLING if each in by_key), known[0])
    for each in known:
        if each.key == key:
            return each
    raise InvalidInput("do", key, "use one of " + ", ".join(each.key for each in known))


def chosen_conditions(work: Work, key: str) -> Conditions:
    """Return the conditions of a key, or the usual ones."""
    known = conditions_for(work.rig)
    for each in known:
        if each.key == (key or "nominal"):
            return each
    raise InvalidInput("under", key, "use one of " + ", ".join(each.key for each in known))


def marks_of(located: Sequence[tuple[Finding, Location]]) -> tuple[PartMark, ...]:
    """Return the marks of what is to be mended, each once."""
    marks = [
        (place.station, place.function, finding.rule, finding.severity.value, _exact(place))
        for finding, place in located
        if finding.severity.to_mend and place.station
    ]
    return tuple(dict.fromkeys(marks))


def in_words(command: Command, answer: CommandAnswer) -> str:
    """Return one sentence for those who do not see the drawing."""
    lamps = [load for load in answer.loads if load.kind == "lamp" and load.commanded]
    words = {word: sum(load.word == word for load in lamps) for word in ("normal", "bright")}
    weak = [load for load in lamps if load.word not in words]
    worst = min(lamps, key=lambda load: load.light_share or 0.0, default=None)
    said = f"{command.title}: {show_current(answer.supply_current_a)} from the battery"
    if not lamps:
        return f"{said}."
    said += f"; {len(lamps) - len(weak)} of {len(lamps)} trailer lights normal"
    if weak and worst is not None:
        said += f", the weakest is {worst.name} at {show_voltage(worst.voltage_v)}, {worst.word}"
    return f"{said}."


def _exact(place: Location) -> str:
    return "" if place.is_whole_station else place.element


def _commands(work: Work, now: Moment) -> tuple[Choice, ...]:
    return tuple(
        Choice(
            each.key,
            each.title,
            f"{now.base}?{query(each.key, now.conditions.key)}",
            each.key == now.command.key,
        )
        for each in commands_for(work.rig)
    )


def _under(work: Work, now: Moment) -> tuple[Choice, ...]:
    return tuple(
        Choice(
            each.key,
            CONDITION_WORDS[each.key],
            f"{now.base}?{query(now.command.key, each.key)}",
            each.key == now.conditions.key,
            each.says,
        )
        for each in conditions_for(work.rig)
    )


def _wide(work: Work, now: Moment, marks: Sequence[PartMark]) -> Markup:
    svg = run_drawing(work.rig, now.answer, marks, now.command.title, now.link, is_bare=True)
    return Markup(svg)  # noqa: S704 the drawing escapes its text


def _folded(
    work: Work, answer: CommandAnswer, marks: Sequence[PartMark], link: str
) -> tuple[FoldedCircuit, ...]:
    return tuple(
        FoldedCircuit(
            circuit.row,
            circuit.title,
            "" if circuit.current_a is None else show_current(circuit.current_a),
            circuit.current_a is not None,
            Markup(circuit.svg),  # noqa: S704 the drawing escapes its text
        )
        for circuit in folded_circuits(work.rig, answer, marks, link)
    )


def _load_row(load: LoadAnswer, link: str) -> LoadRow:
    return LoadRow(
        path=link.replace("{part}", load.element),
        name=load.name,
        volts="" if load.floating else show_voltage(load.voltage_v),
        amps=show_current(load.current_a),
        light="" if load.light_share is None else show_share(round(load.light_share, 2)),
        word=load.word,
    )


def _rows(answer: CommandAnswer, parts: Mapping[str, Part], link: str) -> list[Row]:
    """Every wire and joint that carries current, along the run and back."""
    drops = {each.part.element: (each.drop_v, each.current_a) for each in answer.conductors}
    drops |= {each.part.element: (each.drop_v, each.current_a) for each in answer.joints}
    rows = [
        Row(
            element=element,
            path=link.replace("{part}", element),
            place=part.place,
            station=part.station,
            volts=show_voltage(drops[element][0]),
            amps=show_current(drops[element][1]),
        )
        for element, part in parts.items()
        if element in drops and abs(drops[element][1]) > SEEN_ABOVE_A
    ]
    return sorted(rows, key=lambda row: STATIONS.index(row.station))
