"""A change before it is taken, on a terminal: what moves, which findings go and come."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from loomwright import check as find
from loomwright.changes.change import Edit
from loomwright.changes.difference import difference
from loomwright.changes.outcome import FindingsMoved, Outcome, findings_moved
from loomwright.changes.what_if import what_would
from loomwright.checks.rule import Finding, Work
from loomwright.cli.files import write_result
from loomwright.cli.paint import Page, listing
from loomwright.cli.surveying import survey_with_bar
from loomwright.electrics.conditions import conditions_for
from loomwright.rig.model import Rig
from loomwright.rig.read import read_rig

CAUTION = "The wires themselves are yours to change: disconnect the battery first."


def show_change(
    work: Work,
    text: str,
    says: str,
    edits: Sequence[Edit],
    *,
    conditions: str = "nominal",
    as_json: bool,
    output: Path | None,
) -> None:
    """Print what a change would do, and write the changed job file where one is asked for.

    Parameters
    ----------
    work : Work
        The rig as it is.
    text : str
        Its job file.
    says : str
        The change in words.
    edits : sequence of Edit
        What is changed.
    conditions : str
        Key of the conditions the numbers are told for.
    as_json : bool
        Whether to print it for a program.
    output : Path, optional
        Where the changed job file goes.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for every value that cannot be used.
    InvalidInput
        If the file cannot be written.
    """
    result = what_would(work, text, edits, conditions=conditions)
    after = survey_with_bar(_in_units(result.text, work))
    moved = findings_moved(find(work), find(after))
    if as_json:
        from loomwright.reports import change_report

        print(json.dumps(change_report(work.rig, edits, result, moved, conditions)))
    else:
        page = Page()
        page.head(work.rig.name)
        page.line(says)
        _show_numbers(page, result, _title(work, conditions))
        _show_findings(page, moved)
        _show_lines(page, text, result.text)
    if output is not None:
        write_result(output, result.text)
    if not as_json:
        page.line()
        page.whole(f"Written to {output}." if output else "Nothing is written yet: see --output.")
        page.line(CAUTION, "quiet")


def _in_units(text: str, work: Work) -> Rig:
    return replace(read_rig(text), units=work.rig.units)


def _title(work: Work, conditions: str) -> str:
    return next(each.title for each in conditions_for(work.rig) if each.key == conditions)


def _show_numbers(page: Page, result: Outcome, title: str) -> None:
    page.line()
    page.head(f"What moves, {title}")
    if not result.rows:
        page.line("No lamp, brake, fuse or wire that is half loaded moves by its last digit.")
        return
    rows = [(row.words, row.before, row.after, row.word) for row in result.rows]
    page.show(listing(("Number", "Now", "Then", "That is"), rows))


def _show_findings(page: Page, moved: FindingsMoved) -> None:
    page.line()
    page.head("Findings")
    for mark, one in (
        *(("Comes", each) for each in moved.come),
        *(("Goes", each) for each in moved.gone),
        *((_grade(one, other), other) for one, other in moved.changed),
    ):
        page.line(f"{mark}: {one.severity.value}, {one.where}. {one.says}")
    stay = "1 finding stays." if moved.stays == 1 else f"{moved.stays} findings stay."
    page.line(stay if moved.stays else "No finding stays.")


def _grade(before: Finding, after: Finding) -> str:
    return "Milder" if after.severity.rank > before.severity.rank else "Graver"


def _show_lines(page: Page, before: str, after: str) -> None:
    page.line()
    page.head("In the job file")
    for row in difference(before, after):
        number = "" if row.number is None else str(row.number)
        page.whole(f"{number:>4} {row.sign or ' '} {row.text}".rstrip())
