"""The findings and readings of a rig as a report."""

from __future__ import annotations

from collections.abc import Sequence

from loomwright.checks.rule import Finding, Work
from loomwright.electrics.answers import (
    Answers,
    CommandAnswer,
    ConductorAnswer,
    JointAnswer,
    LoadAnswer,
)
from loomwright.reports.plain import VERSION, Plain, plain

CHECK_FORMAT = "loomwright/check"


def check_report(work: Work, findings: Sequence[Finding]) -> dict[str, Plain]:
    """Return findings, assumptions and, for each command, the nominal readings and the bands.

    Parameters
    ----------
    work : Work
        The rig, its pairing and its answers.
    findings : sequence of Finding
        As `check` gives them, gravest first.
    """
    answers = work.answers
    return {
        "format": CHECK_FORMAT,
        "version": VERSION,
        "rig": work.rig.name,
        "units": work.rig.units.value,
        "findings": plain(tuple(findings)),
        "assumptions": plain(work.rig.assumptions),
        "conditions": list(answers.conditions),
        "commands": {key: _command(answers, key) for key in answers.commands},
    }


def _command(answers: Answers, key: str) -> dict[str, Plain]:
    nominal = answers.at(key)
    return {
        **_readings(nominal),
        "bands": {load.name: plain(answers.load_band(key, load.name)) for load in nominal.loads},
        "other_conditions": {
            name: _readings(answers.at(key, name))
            for name in answers.conditions
            if name != nominal.conditions
        },
    }


def _readings(answer: CommandAnswer) -> dict[str, Plain]:
    return {
        "conditions": answer.conditions,
        "nodes": [
            {"name": name, "voltage_v": volts, "floating": name in answer.floating}
            for name, volts in answer.nodes_v.items()
        ],
        "loads": [_load(load) for load in answer.loads],
        "conductors": [_conductor(row) for row in answer.conductors],
        "fuses": plain(answer.fuses),
        "joints": [_joint(row) for row in answer.joints],
        "pins": plain(answer.pins),
        "opened": list(answer.opened),
        "supply_v": answer.supply_v,
        "supply_current_a": answer.supply_current_a,
        "kirchhoff_residual_a": answer.kirchhoff_residual_a,
        "power_residual_w": answer.power_residual_w,
    }


def _load(load: LoadAnswer) -> dict[str, Plain]:
    return {
        "name": load.name,
        "kind": load.kind,
        "function": load.function,
        "element": load.element,
        "commanded": load.commanded,
        "voltage_v": load.voltage_v,
        "current_a": load.current_a,
        "light_share": load.light_share,
        "word": load.word,
        "supply_drop_v": load.supply_drop_v,
        "return_drop_v": load.return_drop_v,
        "floating": load.floating,
        "ladder": [
            {
                "element": rung.part.element,
                "kind": rung.part.kind,
                "path": rung.part.path,
                "place": rung.part.place,
                "drop_v": rung.drop_v,
                "current_a": rung.current_a,
                "resistance_ohm": rung.resistance_ohm,
            }
            for rung in load.ladder
        ],
    }


def _conductor(row: ConductorAnswer) -> dict[str, Plain]:
    return {
        "element": row.part.element,
        "place": row.part.place,
        "function": row.part.function,
        "size": plain(row.part.size),
        "length_m": row.part.length_m,
        "current_a": row.current_a,
        "drop_v": row.drop_v,
        "ampacity_a": row.ampacity_a,
        "share": row.share,
    }


def _joint(row: JointAnswer) -> dict[str, Plain]:
    return {
        "element": row.part.element,
        "place": row.part.place,
        "joint_kind": row.part.joint_kind,
        "resistance_ohm": row.resistance_ohm,
        "current_a": row.current_a,
        "drop_v": row.drop_v,
        "heat_w": row.heat_w,
    }
