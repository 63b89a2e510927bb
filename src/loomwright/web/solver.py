"""Solved rigs, kept for a while: the same text is read and solved once."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from threading import Lock
from typing import Generic, TypeVar

from loomwright import check, read_rig, survey
from loomwright.changes.changeable import Changeable, changeables
from loomwright.changes.key_numbers import Number, numbers_now
from loomwright.checks.rule import Finding, Work
from loomwright.quantities import Units
from loomwright.rig.model import Rig
from loomwright.rig.read import read_job
from loomwright.sheets.typeset import Paper

MOST_KEPT = 32
MOST_SHEETS = 4
"""A sheet as pictures is some megabytes."""

T = TypeVar("T")


@dataclass(slots=True)
class _Once(Generic[T]):
    """A value that is worked out by whoever asks first; the others wait for it."""

    make: Callable[[], T]
    lock: Lock = field(default_factory=Lock)
    made: list[T] = field(default_factory=list)

    def get(self) -> T:
        with self.lock:
            if not self.made:
                self.made.append(self.make())
            return self.made[0]


@dataclass(slots=True)
class _Kept(Generic[T]):
    """The values made last, by their keys."""

    most: int
    lock: Lock = field(default_factory=Lock)
    entries: OrderedDict[object, _Once[T]] = field(default_factory=OrderedDict)

    def get(self, key: object, make: Callable[[], T]) -> T:
        with self.lock:
            entry = self.entries.setdefault(key, _Once(make))
            self.entries.move_to_end(key)
            if len(self.entries) > self.most:
                self.entries.popitem(last=False)
        return entry.get()

    def has(self, key: object) -> bool:
        with self.lock:
            entry = self.entries.get(key)
        return entry is not None and bool(entry.made)


@dataclass(frozen=True, slots=True)
class Solver:
    """Reads and solves job files; keeps the last few."""

    rigs: _Kept[Rig] = field(default_factory=lambda: _Kept(4 * MOST_KEPT))
    works: _Kept[Work] = field(default_factory=lambda: _Kept(MOST_KEPT))
    found: _Kept[tuple[Finding, ...]] = field(default_factory=lambda: _Kept(2 * MOST_KEPT))
    changes: _Kept[tuple[Changeable, ...]] = field(default_factory=lambda: _Kept(MOST_KEPT))
    told: _Kept[tuple[Number, ...]] = field(default_factory=lambda: _Kept(2 * MOST_KEPT))
    sheets: _Kept[tuple[bytes, ...]] = field(default_factory=lambda: _Kept(MOST_SHEETS))

    def rig(self, text: str, units: Units | None = None) -> Rig:
        """Return the rig of a job file, to be shown in `units`, or in the file's own.

        Raises
        ------
        ExceptionGroup
            Of `InvalidInput`, if the text cannot be used.
        """
        rig = self.rigs.get(text, lambda: read_rig(text))
        return rig if units is None else replace(rig, units=units)

    def work(self, text: str, units: Units | None = None) -> Work:
        """Return a job file's rig with its pairing and its answers.

        Raises
        ------
        ExceptionGroup
            Of `InvalidInput`, if the text cannot be used.
        """
        rig = self.rig(text)
        work = self.works.get(text, lambda: survey(rig))
        return work if units is None else replace(work, rig=replace(work.rig, units=units))

    def changeable(self, text: str, units: Units) -> tuple[Changeable, ...]:
        """Return what of a job file may be changed for a while, to see what that would do.

        Raises
        ------
        ExceptionGroup
            Of `InvalidInput`, if the text cannot be used.
        """
        rig = self.rig(text, units)
        return self.changes.get((text, units), lambda: changeables(rig, read_job(text), text))

    def numbers(self, text: str, units: Units, under: str) -> tuple[Number, ...]:
        """Return the numbers that tell how a job file's rig does under a set of conditions.

        Raises
        ------
        ExceptionGroup
            Of `InvalidInput`, if the text cannot be used.
        """
        work = self.work(text, units)
        return self.told.get((text, units, under), lambda: numbers_now(work, under))

    def findings(self, text: str, units: Units | None = None) -> tuple[Finding, ...]:
        """Return what to put right, gravest first.

        Raises
        ------
        ExceptionGroup
            Of `InvalidInput`, if the text cannot be used.
        """
        work = self.work(text, units)
        return self.found.get((text, work.rig.units), lambda: check(work))

    def sheet_pages(self, text: str, units: Units | None, paper: Paper) -> tuple[bytes, ...]:
        """Return the pages of a job file's sheet as pictures.

        Raises
        ------
        ExceptionGroup
            Of `InvalidInput`, if the text cannot be used.
        """
        work, findings = self.work(text, units), self.findings(text, units)

        def make() -> tuple[bytes, ...]:
            from loomwright.parts import parts_list
            from loomwright.sheets.job import sheet_pages

            return sheet_pages(work, findings, parts_list(work.rig, work.hookup), paper=paper)

        return self.sheets.get((text, work.rig.units, paper), make)

    def has_solved(self, text: str) -> bool:
        """Return whether a job file is solved already, so that showing it costs nothing."""
        return self.works.has(text)
