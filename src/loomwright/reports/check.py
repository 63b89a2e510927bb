"""The findings and readings of a rig as a report."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loomwright.checks.rule import Finding, Work
from loomwright.electrics.answers import Answers, CommandAnswer, Part
from loomwright.electrics.commands import find_command
from loomwright.reports.plain import VERSION, Plain, plain, reading
from loomwright.reports.readings import readings

CHECK_FORMAT = "loomwright/check"


def check_report(work: Work, findings: Sequence[Finding], file: str = "") -> dict[str, Plain]:
    """Return findings, assumptions, and every reading for each command and set of conditions.

    Parameters
    ----------
    work : Work
        The rig, its pairing and its answers.
    findings : sequence of Finding
        As `check` gives them, gravest first.
    file : str
        Name of the job file, to tell several reports apart.
    """
    answers = work.answers
    return {
        "format": CHECK_FORMAT,
        "version": VERSION,
        "file": file,
        "rig": work.rig.name,
        "units": work.rig.units.value,
        "to_mend": any(finding.severity.to_mend for finding in findings),
        "findings": plain(tuple(findings)),
        "assumptions": plain(work.rig.assumptions),
        "conditions": list(answers.conditions),
        "parts": {part.element: _part(part) for part in _parts(answers)},
        "commands": {key: _command(answers, key) for key in answers.commands},
    }


def _command(answers: Answers, key: str) -> dict[str, Plain]:
    loads = answers.at(key).loads
    return {
        "title": find_command(key).title,
        "bands": {load.name: _band(answers, key, load.name) for load in loads},
        "readings": {name: readings(answers.at(key, name)) for name in answers.conditions},
    }


def _band(answers: Answers, key: str, load: str) -> dict[str, Plain]:
    band = answers.load_band(key, load)
    return {
        "low_v": reading(band.low),
        "nominal_v": reading(band.nominal),
        "high_v": reading(band.high),
    }


def _parts(answers: Answers) -> Iterator[Part]:
    for case in answers.by_case.values():
        yield from _parts_of(case)


def _parts_of(case: CommandAnswer) -> Iterator[Part]:
    yield from (row.part for row in case.conductors)
    yield from (row.part for row in case.joints)
    yield from (rung.part for load in case.loads for rung in load.ladder)


def _part(part: Part) -> dict[str, Plain]:
    return {
        "kind": part.kind,
        "path": part.path,
        "station": part.station,
        "place": part.place,
        "function": part.function,
        "ref": part.ref,
        "size": plain(part.size),
        "length_m": reading(part.length_m),
        "joint_kind": part.joint_kind,
        "insulation": part.insulation,
    }
