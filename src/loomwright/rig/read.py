"""Reading job files: text in, a job or a rig out, or every problem at once with its line."""

from __future__ import annotations

import copy
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NoReturn

from pydantic import ValidationError

from loomwright.invalid import InvalidInput, raise_all
from loomwright.rig.agreement import disagreements
from loomwright.rig.assemble import assemble
from loomwright.rig.entries import LEGEND
from loomwright.rig.job import Job
from loomwright.rig.known import legends
from loomwright.rig.lines import key_lines
from loomwright.rig.model import Rig
from loomwright.rig.places import Place, line_of, read_path
from loomwright.rig.problems import problems_of
from loomwright.rig.toml_text import NAMELESS, toml_values, without_mark

LINKS = frozenset(
    {"name", "connector", "joins", "towing", "function", "side", "sides", "axle", "axles"}
    | {"plug", "voltage", "colours"}
)
"""Keys that other entries are checked by: where one is unreadable, those checks must wait."""


def read_job(text: str, file: str = "") -> Job:
    """Return the job a file describes, as written.

    Parameters
    ----------
    text : str
        What stands in the file.
    file : str
        Its name, for the messages.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, one for each entry that cannot be used, with path and line.
    """
    sheet = _Sheet.of(text, file)
    job = sheet.job()
    sheet.refuse_if(disagreements(job))
    return job


def read_rig(text: str, file: str = "") -> Rig:
    """Return the rig a file describes, complete; what it leaves out stands in `assumptions`.

    Parameters
    ----------
    text : str
        What stands in the file.
    file : str
        Its name, for the messages.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, one for each entry that cannot be used, with path and line.
    """
    sheet = _Sheet.of(text, file)
    job = sheet.job()
    problems: list[InvalidInput] = []
    try:
        rig = assemble(job)
    except* InvalidInput as refused:
        problems = _inputs(refused)
    sheet.refuse_if(problems)
    return rig


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A job file under reading: its text, its values, its name."""

    text: str
    data: Mapping[str, Any]
    file: str

    @classmethod
    def of(cls, text: str, file: str) -> _Sheet:
        plain = without_mark(text)
        return cls(plain, toml_values(plain, file), file)

    def job(self) -> Job:
        """Return the job, or raise all that is wrong with it."""
        try:
            return _validated(self.data)
        except ValidationError as refused:
            found = problems_of(refused)
        return self.refuse([*found, *self._beyond([place for place, _ in found])])

    def refuse_if(self, problems: Iterable[InvalidInput]) -> None:
        """Raise every problem at once, if there is any."""
        if found := _placed(problems):
            self.refuse(found)

    def refuse(self, problems: Sequence[tuple[Place, InvalidInput]]) -> NoReturn:
        """Raise every problem at once, in the order of the file."""
        lines = key_lines(self.text)
        told = [
            problem.at(problem.field, file=self.file or None, line=line_of(place, lines))
            for place, problem in problems
        ]
        told.sort(key=lambda problem: problem.line or 0)
        raise_all(told, self.file or NAMELESS)
        raise AssertionError("nothing to refuse")

    def _beyond(self, bad: Sequence[Place]) -> list[tuple[Place, InvalidInput]]:
        """Return what else is wrong once the unreadable entries are left out."""
        if any(isinstance(place[-1], int) or place[-1] in LINKS for place in bad if place):
            return []
        rest = copy.deepcopy(dict(self.data))
        for place in bad:
            _drop(rest, place)
        try:
            job = _validated(rest)
        except ValidationError:
            return []
        problems: list[InvalidInput] = []
        try:
            assemble(job)
        except* InvalidInput as refused:
            problems = _inputs(refused)
        return _placed(problems)


def _validated(data: Mapping[str, Any]) -> Job:
    return Job.model_validate(data, context={LEGEND: _legend(data)})


def _legend(data: Mapping[str, Any]) -> str | None:
    """Return the colour legend of the vehicle's manual, if the file names one that is known."""
    vehicle = data.get("vehicle")
    legend = vehicle.get("legend") if isinstance(vehicle, dict) else None
    return legend if isinstance(legend, str) and legend in legends() else None


def _drop(data: dict[str, Any], place: Place) -> None:
    """Take out the entry at a place, if it is there."""
    node: Any = data
    for step in place[:-1]:
        is_there = step in node if isinstance(node, dict) else isinstance(node, list)
        if not is_there:
            return
        node = node[step]
    if isinstance(node, dict) and place:
        node.pop(place[-1], None)


def _inputs(refused: ExceptionGroup[InvalidInput]) -> list[InvalidInput]:
    return [each for each in refused.exceptions if isinstance(each, InvalidInput)]


def _placed(problems: Iterable[InvalidInput]) -> list[tuple[Place, InvalidInput]]:
    return [(read_path(problem.field), problem) for problem in problems]
