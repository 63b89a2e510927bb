"""Mends of colours that mislead: another lead or cord, where one leaves no trap anywhere.

Colours are never a proof. These mends take away what misleads; each wire is tested all the same.
"""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.changes.change import Change, Edit
from loomwright.checks.rule import Finding, Work
from loomwright.hookup.model import Standing
from loomwright.hookup.pairing import pair
from loomwright.reference.conventions import convention, convention_keys
from loomwright.rig.assemble import assemble
from loomwright.rig.job import Job
from loomwright.rig.job_socket import JobLead
from loomwright.rig.known import UNKNOWN
from loomwright.rig.model import Join, Socket

NEVER = "Colours are a hint: test each wire all the same."


def other_colours(finding: Finding, work: Work, job: Job) -> Change | None:
    """Take a cord, or a lead, in colours that mislead nowhere on this rig."""
    at = next((n for n, one in enumerate(work.rig.sockets) if one.name in finding.where), None)
    if at is None:
        return None
    socket = work.rig.sockets[at]
    if finding.station == "plug":
        says, trial = _cord_like(socket, at, job)
        if trial is not None and _is_clear(trial):
            return Change(says, (Edit("trailer.cord.colours", _lead(trial, at).colours),))
    if socket.join is Join.FACTORY:
        return None
    for key in _lead_colours(socket, job):
        trial = _with_lead(job, at, key)
        if _is_clear(trial):
            says = f"Take a lead for the {socket.name} in {_title(key)}. {NEVER}"
            return Change(says, (Edit(f"socket[{at + 1}].lead.colours", key),))
    return None


def _cord_like(socket: Socket, at: int, job: Job) -> tuple[str, Job | None]:
    """Return the job with a trailer cord in the colours of the lead, and what that means."""
    key, cord = _lead(job, at).colours, job.trailer.cord or JobLead()
    if key is None or key in (UNKNOWN, cord.colours) or convention(key).row.kind == "vehicle":
        return "", None
    if job.trailer.plug not in (None, socket.connector):
        return "", None
    trailer = job.trailer.model_copy(update={"cord": cord.model_copy(update={"colours": key})})
    says = f"Fit a trailer cord in the colours of the {socket.name} lead: {_title(key)}. {NEVER}"
    return says, job.model_copy(update={"trailer": trailer})


def _lead_colours(socket: Socket, job: Job) -> Iterator[str]:
    """Yield the colours that leads of this connector are sold in."""
    for key in convention_keys():
        row = convention(key).row
        if key == socket.connector or (row.kind == "lead" and row.connector == socket.connector):
            yield key
    cord = job.trailer.cord
    worn = None if cord is None or job.trailer.plug != socket.connector else cord.colours
    if worn is not None and worn != UNKNOWN:
        yield worn


def _with_lead(job: Job, at: int, key: str) -> Job:
    sockets = list(job.sockets)
    lead = _lead(job, at).model_copy(update={"colours": key})
    sockets[at] = sockets[at].model_copy(update={"lead": lead})
    return job.model_copy(update={"sockets": tuple(sockets)})


def _lead(job: Job, at: int) -> JobLead:
    return job.sockets[at].lead or JobLead()


def _is_clear(job: Job) -> bool:
    """Whether no colour misleads anywhere on the rig."""
    return all(one.standing is not Standing.TRAP for one in pair(assemble(job)).pairs)


def _title(key: str) -> str:
    title = convention(key).title
    return f"{title[:1].lower()}{title[1:]}"
