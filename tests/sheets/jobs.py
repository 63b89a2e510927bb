"""Surveyed jobs for the tests of the sheet: every example, once."""

from functools import cache

from tests.sheets.reading_pdf import pages

from loomwright import check, examples, read_rig, survey
from loomwright.checks.rule import Finding, Work
from loomwright.parts import PartsList, parts_list
from loomwright.sheets import Paper, job_sheet

Job = tuple[Work, tuple[Finding, ...], PartsList]


@cache
def job(name: str) -> Job:
    """An example with its answers, findings and parts."""
    work = survey(read_rig(examples.text(name), f"{name}.toml"))
    return work, check(work), parts_list(work.rig, work.hookup)


@cache
def sheet(name: str, paper: Paper = "letter") -> bytes:
    """The job sheet of an example."""
    return job_sheet(*job(name), paper=paper)


@cache
def pages_of(name: str) -> list[str]:
    """Text of each page of an example's sheet."""
    return pages(sheet(name))


def words_of(name: str) -> str:
    """Text of an example's sheet."""
    return " ".join(pages_of(name))
