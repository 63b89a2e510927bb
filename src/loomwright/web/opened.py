"""A rig that a screen works on: its row, its text, and its solved work, read once a request."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request
from starlette.exceptions import HTTPException

from loomwright.changes.key_numbers import Number
from loomwright.checks.rule import Finding, Work
from loomwright.invalid import InvalidInput, complaints_in
from loomwright.quantities import Units
from loomwright.rig.model import Rig
from loomwright.store.rig_values import RigEntry, Version
from loomwright.web.solver import Solver
from loomwright.web.visitor import AVisitor
from loomwright.web.workbench import workbench


class Draft(Exception):
    """A rig whose text cannot be used yet.

    Parameters
    ----------
    kept : KeptRig
        The rig.
    problems : tuple of InvalidInput
        What is to mend, in the order of its lines.
    """

    def __init__(self, kept: KeptRig, problems: tuple[InvalidInput, ...]) -> None:
        super().__init__(kept.entry.name)
        self.kept = kept
        self.problems = problems


@dataclass(frozen=True, slots=True)
class KeptRig:
    """A rig as it is kept, whether its text can be used or not."""

    entry: RigEntry
    version: Version
    solver: Solver
    units: Units

    @property
    def text(self) -> str:
        """The newest job file."""
        return self.version.text

    def problems(self) -> tuple[InvalidInput, ...]:
        """Return what keeps the text from being used, in the order of its lines."""
        return problems_of(self.solver, self.text)


@dataclass(frozen=True, slots=True)
class OpenRig:
    """A rig that can be used.

    `work` and `findings` are solved when first asked for, and kept by the text they come from.
    """

    entry: RigEntry
    version: Version
    rig: Rig
    solver: Solver

    @property
    def text(self) -> str:
        """The newest job file."""
        return self.version.text

    @property
    def work(self) -> Work:
        """The rig, its pairing and its answers."""
        return self.solver.work(self.text, self.rig.units)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What to put right, gravest first."""
        return self.solver.findings(self.text, self.rig.units)

    def numbers(self, under: str) -> tuple[Number, ...]:
        """Return the numbers that tell how the rig does under a set of conditions."""
        return self.solver.numbers(self.text, self.rig.units, under)


def kept_rig(rig_id: str, request: Request, who: AVisitor) -> KeptRig:
    """Return the rig an address names.

    Raises
    ------
    HTTPException
        404, if there is none.
    """
    bench = workbench(request)
    try:
        entry, version = bench.store.rigs.entry(rig_id), bench.store.rigs.newest(rig_id)
    except InvalidInput as unknown:
        raise HTTPException(404, "rig") from unknown
    return KeptRig(entry, version, bench.solver, who.units)


AKeptRig = Annotated[KeptRig, Depends(kept_rig)]


def open_rig(kept: AKeptRig) -> OpenRig:
    """Return the rig an address names, ready to be worked with.

    Raises
    ------
    Draft
        If its text cannot be used yet.
    """
    if problems := kept.problems():
        raise Draft(kept, problems)
    rig = kept.solver.rig(kept.text, kept.units)
    return OpenRig(kept.entry, kept.version, rig, kept.solver)


AnOpenRig = Annotated[OpenRig, Depends(open_rig)]


def problems_of(solver: Solver, text: str) -> tuple[InvalidInput, ...]:
    """Return what keeps a job file from being used, in the order of its lines."""
    found: tuple[InvalidInput, ...] = ()
    try:
        solver.rig(text)
    except* InvalidInput as unusable:
        found = complaints_in(unusable)
    return found
