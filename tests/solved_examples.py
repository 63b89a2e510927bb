"""The example rigs, each read and solved once for all tests of a process."""

from __future__ import annotations

from functools import cache

from loomwright import check, examples, survey
from loomwright.checks.rule import Finding, Work
from loomwright.rig.job import Job
from loomwright.rig.model import Rig
from loomwright.rig.read import read_job, read_rig

EXAMPLES = examples.names()


@cache
def text_of(name: str) -> str:
    return examples.text(name)


@cache
def job_of(name: str) -> Job:
    return read_job(text_of(name))


@cache
def rig_of(name: str) -> Rig:
    return read_rig(text_of(name))


@cache
def work_of(name: str) -> Work:
    return survey(rig_of(name))


@cache
def findings_of(name: str) -> tuple[Finding, ...]:
    return check(work_of(name))
