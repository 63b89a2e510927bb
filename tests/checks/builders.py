"""Work for the rules: rigs paired and solved, or with readings written by hand."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from loomwright.checks.rule import Finding, Rule, Work
from loomwright.electrics.answers import (
    Answers,
    CommandAnswer,
    ConductorAnswer,
    FuseAnswer,
    JointAnswer,
    LoadAnswer,
    Part,
    PartKind,
    Path,
    Rung,
)
from loomwright.electrics.solved import answers
from loomwright.hookup.model import Hookup
from loomwright.hookup.pairing import pair
from loomwright.quantities import WireSize
from loomwright.rig.model import Rig

UNREAD = Answers({}, (), ())


def unsolved(rig: Rig) -> Work:
    """For rules that look at the rig and its pairing only."""
    return Work(rig, pair(rig), UNREAD)


def solved(rig: Rig) -> Work:
    """The whole way: paired, and solved under every command."""
    return Work(rig, pair(rig), answers(rig))


def paired(rig: Rig, hookup: Hookup) -> Work:
    """A rig with a pairing written by hand."""
    return Work(rig, hookup, UNREAD)


def read(rig: Rig, *cases: CommandAnswer) -> Work:
    """A rig with readings written by hand."""
    by_case = {(case.command, case.conditions): case for case in cases}
    commands = tuple(dict.fromkeys(case.command for case in cases))
    conditions = tuple(dict.fromkeys(case.conditions for case in cases))
    for command in commands:
        for key in conditions:
            by_case.setdefault((command, key), case_of(command, key))
    return Work(rig, Hookup((), (), ()), Answers(by_case, commands, conditions))


def found(rule: Rule, work: Work) -> tuple[Finding, ...]:
    return tuple(rule.find(work))


def only(rule: Rule, work: Work) -> Finding:
    """The single finding of a rule."""
    (finding,) = rule.find(work)
    return finding


def case_of(command: str, conditions: str = "nominal", **readings: Iterable[Any]) -> CommandAnswer:
    """Readings of one command: loads, conductors, fuses, joints."""
    made = CommandAnswer(
        command=command,
        conditions=conditions,
        loads=(),
        conductors=(),
        fuses=(),
        joints=(),
        pins=(),
        nodes_v={},
        floating=frozenset(),
        opened=(),
        supply_v=14.0,
        supply_current_a=0.0,
        kirchhoff_residual_a=0.0,
        power_residual_w=0.0,
    )
    return replace(made, **{name: tuple(values) for name, values in readings.items()})


def part(kind: PartKind, path: Path = "supply", function: str = "tail", **changes: Any) -> Part:
    made = Part(
        element=f"{function}_{kind}",
        kind=kind,
        path=path,
        station="run",
        place=f"{function} {kind}",
        function=function,
        ref=f"trailer.run.{function}",
    )
    return replace(made, **changes)


def wire_part(size: str = "16", **changes: Any) -> Part:
    return part("wire", size=WireSize("awg", size), length_m=5.0, insulation="GPT", **changes)


def rung(of: Part, drop_v: float, current_a: float = 2.0) -> Rung:
    return Rung(of, drop_v, current_a, drop_v / current_a)


def load(name: str, function: str, voltage_v: float, **changes: Any) -> LoadAnswer:
    """A commanded load behind 14 V whose supply side takes all the drop, unless told."""
    made = LoadAnswer(
        name=name,
        kind="lamp",
        function=function,
        element=name.replace(" ", "_"),
        commanded=True,
        voltage_v=voltage_v,
        current_a=2.0,
        light_share=(voltage_v / 12.8) ** 3.4,
        word="normal",
        supply_drop_v=14.0 - voltage_v,
        return_drop_v=0.0,
        home="",
        ladder=(),
        floating=False,
    )
    return replace(made, **changes)


def wire(of: Part, current_a: float, ampacity_a: float) -> ConductorAnswer:
    return ConductorAnswer(of, current_a, 0.1, ampacity_a, abs(current_a) / ampacity_a)


def fuse(rating_a: float, current_a: float, function: str = "tail", **changes: Any) -> FuseAnswer:
    made = FuseAnswer(
        element=f"{function}_fuse",
        function=function,
        place=f"fuse of the {function} feed",
        rating_a=rating_a,
        kind="medium",
        current_a=current_a,
        share=current_a / rating_a,
        opened=False,
    )
    return replace(made, **changes)


def joint(of: Part, resistance_ohm: float, current_a: float) -> JointAnswer:
    drop_v = resistance_ohm * current_a
    return JointAnswer(of, resistance_ohm, current_a, drop_v, drop_v * current_a)
