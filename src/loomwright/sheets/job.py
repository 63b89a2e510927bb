"""The job sheet of a rig, from its answers to its bytes."""

from __future__ import annotations

from collections.abc import Sequence

from loomwright.checks.rule import Finding, Work
from loomwright.parts.model import PartsList
from loomwright.sheets.care import before, care
from loomwright.sheets.faces import faces
from loomwright.sheets.head import head
from loomwright.sheets.joints import joints
from loomwright.sheets.lamps import lamps
from loomwright.sheets.readings import readings
from loomwright.sheets.record import record
from loomwright.sheets.route import route
from loomwright.sheets.run_page import run_page
from loomwright.sheets.steps import steps, steps_cite
from loomwright.sheets.typeset import Content, Paper, page_size, set_pages, set_pdf


def job_sheet(
    work: Work, findings: Sequence[Finding], parts: PartsList, *, paper: Paper = "letter"
) -> bytes:
    """Return the job sheet as a PDF: tagged, in our own fonts, the same bytes every time.

    Parameters
    ----------
    work : Work
        The rig, its pairing and its answers.
    findings : sequence of Finding
        As `check` gives them, gravest first.
    parts : PartsList
        What to pull and what to cut.
    paper : "letter" or "a4"
        Size of the paper.

    Raises
    ------
    InvalidInput
        If the paper is not known.
    """
    return set_pdf(content(work, findings, parts, paper=paper))


def sheet_pages(
    work: Work, findings: Sequence[Finding], parts: PartsList, *, paper: Paper = "letter"
) -> tuple[bytes, ...]:
    """Return the pages of the job sheet as pictures to look at, each a PNG.

    Parameters
    ----------
    work : Work
        The rig, its pairing and its answers.
    findings : sequence of Finding
        Gravest first.
    parts : PartsList
        What to pull and what to cut.
    paper : "letter" or "a4"
        Size of the paper.

    Raises
    ------
    InvalidInput
        If the paper is not known.
    """
    return set_pages(content(work, findings, parts, paper=paper))


def content(
    work: Work, findings: Sequence[Finding], parts: PartsList, *, paper: Paper = "letter"
) -> Content:
    """Return everything the sheet shows, section by section, as values JSON takes.

    Parameters
    ----------
    work : Work
        The rig, its pairing and its answers.
    findings : sequence of Finding
        Gravest first.
    parts : PartsList
        What to pull and what to cut.
    paper : "letter" or "a4"
        Size of the paper.

    Raises
    ------
    InvalidInput
        If the paper is not known.
    """
    cites = [*steps_cite(work.rig), *(each.source for each in before(work.rig))]
    return {
        "title": f"Job sheet: {work.rig.name}",
        **page_size(paper),
        "head": head(work.rig, findings),
        "care": care(work.rig, work.hookup),
        "faces": faces(work.rig),
        "joints": joints(work),
        "run": run_page(work, findings),
        "route": route(work.rig, parts),
        "steps": steps(work.rig),
        "readings": readings(work),
        "lamps": lamps(work),
        "record": record(work, findings, cites),
    }
