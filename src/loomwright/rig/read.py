"""Reading job files: text in, a job or a rig out, or every problem at once with its line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import ValidationError

from loomwright.invalid import InvalidInput, raise_all
from loomwright.rig.agreement import disagreements
from loomwright.rig.assemble import assemble
from loomwright.rig.entries import LEGEND
from loomwright.rig.job import Job
from loomwright.rig.lines import key_lines
from loomwright.rig.model import Rig
from loomwright.rig.places import Place, line_of, read_path
from loomwright.rig.problems import problems_of

AT_LINE = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
BYTE_ORDER_MARK = "\ufeff"
NAMELESS = "job file"


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
    sheet = _Sheet(text.removeprefix(BYTE_ORDER_MARK), file)
    job = sheet.job()
    sheet.raise_all(disagreements(job))
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
    sheet = _Sheet(text.removeprefix(BYTE_ORDER_MARK), file)
    job = sheet.job()
    try:
        return assemble(job)
    except ExceptionGroup as refused:
        problems = [each for each in refused.exceptions if isinstance(each, InvalidInput)]
    sheet.raise_all(problems)
    raise AssertionError("a refused rig had no problem")


@dataclass(slots=True)
class _Sheet:
    """A job file under reading: its text, its name, and the line of each key."""

    text: str
    file: str
    lines: Mapping[Place, int] = field(default_factory=dict)

    def job(self) -> Job:
        data = self._toml()
        self.lines = key_lines(self.text)
        try:
            return Job.model_validate(data, context={LEGEND: _legend(data)})
        except ValidationError as refused:
            found = problems_of(refused)
        self.raise_all(problem for _, problem in found)
        raise AssertionError("a refused job had no problem")

    def raise_all(self, problems: Iterable[InvalidInput]) -> None:
        """Raise every problem at once, in the order of the lines, if there is any."""
        told = [self._with_line(problem) for problem in problems]
        told.sort(key=lambda problem: problem.line or 0)
        raise_all(told, self.file or NAMELESS)

    def _with_line(self, problem: InvalidInput) -> InvalidInput:
        line = line_of(read_path(problem.field), self.lines)
        return problem.at(problem.field, file=self.file or None, line=line)

    def _toml(self) -> dict[str, Any]:
        try:
            return tomllib.loads(self.text)
        except RecursionError:
            problem = InvalidInput(self.file or NAMELESS, "", "nest lists and tables less deep")
        except ValueError as refused:
            problem = self._not_toml(str(refused))
        raise_all([problem], self.file or NAMELESS)
        raise AssertionError("a problem was not raised")

    def _not_toml(self, said: str) -> InvalidInput:
        rows = self.text.split("\n")
        found = AT_LINE.search(said)
        line = int(found["line"]) if found and found["line"] else len(rows)
        reason = said[: found.start()] if found else said
        return InvalidInput(
            self.file or NAMELESS,
            rows[line - 1].strip()[:80],
            f"mend this line, it is not TOML: {reason[:1].lower()}{reason[1:]}",
            file=self.file or None,
            line=line,
        )


def _legend(data: Mapping[str, Any]) -> str | None:
    """Return the colour legend of the vehicle's manual, if the file names one that is known."""
    from loomwright.rig.known import legends

    vehicle = data.get("vehicle")
    legend = vehicle.get("legend") if isinstance(vehicle, dict) else None
    return legend if isinstance(legend, str) and legend in legends() else None
