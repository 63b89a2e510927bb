"""A change before it is taken: what moves, which findings go and come, which lines of the file."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from loomwright.changes.change import Edit, changed
from loomwright.changes.key_numbers import (
    Moved,
    Number,
    compared,
    key_numbers,
    solve_telling,
)
from loomwright.checks.rule import Finding
from loomwright.invalid import InvalidInput, complaints_in
from loomwright.rig.model import Rig

RigReader = Callable[[str], Rig]
MUCH = 0.02
"""Share of a number from which its change is told as better or worse, not as about the same."""


@dataclass(frozen=True, slots=True)
class MovedRow:
    """One number before and after: `word` says whether that is better."""

    words: str
    before: str
    after: str
    word: str
    element: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a change does to a rig.

    `text` is the changed job file. `problems` tells why it cannot be used; then there are no rows.
    """

    text: str
    rows: tuple[MovedRow, ...]
    problems: tuple[InvalidInput, ...] = ()


@dataclass(frozen=True, slots=True)
class FindingsMoved:
    """Findings that a change takes away, those it brings, and those it makes graver or milder."""

    gone: tuple[Finding, ...]
    come: tuple[Finding, ...]
    changed: tuple[tuple[Finding, Finding], ...]
    stays: int


def outcome(
    now: Callable[[], tuple[Number, ...]],
    text: str,
    edits: Iterable[Edit],
    read: RigReader,
    under: str = "nominal",
) -> Outcome:
    """Return what a change does; only what tells is solved, so that it can be seen at once.

    Parameters
    ----------
    now : callable
        Returns the numbers of the rig as it is, under the same conditions.
    text : str
        Its job file.
    edits : iterable of Edit
        What is changed.
    read : callable
        Reads a job file as the visitor sees it.
    under : str
        Key of the conditions.
    """
    new = text
    problems: tuple[InvalidInput, ...] = ()
    rows: tuple[MovedRow, ...] = ()
    try:
        new = changed(text, tuple(edits))
        rig = read(new)
        after = key_numbers(rig, solve_telling(rig, under))
        rows = tuple(_row(each) for each in compared(now(), after))
    except* InvalidInput as unusable:
        problems = complaints_in(unusable)
    return Outcome(new, rows, problems)


def findings_moved(before: Sequence[Finding], after: Sequence[Finding]) -> FindingsMoved:
    """Return what a change does to the findings, the gravest first."""
    gone, come, both = list(before), list(after), []
    for same in (_as_told, _as_kind):
        for one in list(gone):
            other = next((each for each in come if same(each) == same(one)), None)
            if other is not None:
                both.append((one, other))
                gone.remove(one)
                come.remove(other)
    return FindingsMoved(
        tuple(gone),
        tuple(come),
        tuple(pair for pair in both if pair[0].severity is not pair[1].severity),
        sum(pair[0].severity is pair[1].severity for pair in both),
    )


def _as_told(finding: Finding) -> tuple[str, ...]:
    """What makes two findings of two versions the same: rule, place, command, circuits."""
    head, colon, _ = finding.says.partition(":")
    circuits = head if colon and not any(letter.isdigit() for letter in head) else ""
    return finding.rule, finding.where, finding.command, circuits


def _as_kind(finding: Finding) -> tuple[str, ...]:
    """What makes a finding the same one that has moved along the run."""
    return finding.rule, finding.command


def _row(moved: Moved) -> MovedRow:
    one = moved.after or moved.before
    return MovedRow(
        moved.words[:1].upper() + moved.words[1:],
        "not there" if moved.before is None else moved.before.said,
        "not there" if moved.after is None else moved.after.said,
        _word(moved),
        "" if one is None else one.element,
    )


def _word(moved: Moved) -> str:
    if moved.before is None:
        return "new"
    if moved.after is None:
        return "gone"
    if moved.after.group == "battery":
        return "more" if moved.after.value > moved.before.value else "less"
    if abs(moved.gain) < MUCH:
        return "about the same"
    return "better" if moved.gain > 0 else "worse"
