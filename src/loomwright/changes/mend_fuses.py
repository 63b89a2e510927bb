"""Mends by fuse: another rating, or one where there is none."""

from __future__ import annotations

from loomwright.changes.change import Change, Edit
from loomwright.changes.mend_wires import feed_words
from loomwright.checks.protected import FuseLine, fuse_lines
from loomwright.checks.readings import NOMINAL, cases
from loomwright.checks.rule import Finding, Work
from loomwright.checks.words import capital, circuit, listed
from loomwright.quantities import show_current
from loomwright.reference.fuses import CONTINUOUS_SHARE_MOST, ratings
from loomwright.rig.job import Job
from loomwright.rig.job_places import values_for

USUAL_KIND = "medium"
SHORT_OVER_RATING = 2.0
"""A blade fuse opens in seconds from twice its rating on: see the rule for shorts."""


def smaller_fuses(finding: Finding, work: Work, job: Job) -> Change | None:
    """Fit the largest fuse that the wires and a far short allow, in each circuit of a finding."""
    edits, said = [], []
    for line in fuse_lines(work):
        if not _is_meant(finding, line):
            continue
        rating_a = _fitting_a(finding, line)
        path = _path(line.fuse.element, work, job)
        if rating_a is None or path is None:
            continue
        edits.append(Edit(path, _written(rating_a, line.fuse.kind)))
        said.append(f"{show_current(rating_a)} for the {circuit(line.fuse.function)}")
    return Change(f"Fit a fuse of {listed(said, most=6)}.", tuple(edits)) if edits else None


def larger_fuse(finding: Finding, work: Work, job: Job) -> Change | None:
    """Fit the next larger fuse, if the weakest wire behind it carries that for hours."""
    for line in fuse_lines(work):
        fuse, path = line.fuse, _path(line.fuse.element, work, job)
        if fuse.place != finding.where or finding.value is None or path is None:
            continue
        least_a = finding.value / CONTINUOUS_SHARE_MOST
        most_a = min((wire.ampacity_a for wire in line.wires), default=0.0)
        made = [each for each in ratings(fuse.kind) if least_a <= each <= most_a]
        if made:
            says = f"Fit a {show_current(made[0])} fuse as {fuse.place}."
            return Change(says, (Edit(path, _written(made[0], fuse.kind)),))
    return None


def add_fuse(finding: Finding, work: Work, job: Job) -> Change | None:
    """Put the largest fuse into a bare feed that the thinnest wire behind it allows."""
    edits, said = [], []
    for feed in work.rig.vehicle.feeds:
        name = circuit(feed.function)
        values = values_for(f"vehicle.feed.{feed.function}", "fuse", job)
        if feed.fuse is not None or name not in finding.where or not values:
            continue
        rating_a = _rating_for(work, feed.function)
        if rating_a is not None:
            edits.append(Edit(values[0].path, _written(rating_a, USUAL_KIND)))
            said.append(f"{show_current(rating_a)} into the {feed_words(feed.function)}")
    if not edits:
        return None
    where = "beside the battery or distribution point"
    return Change(f"Put a fuse of {listed(said)}, {where}.", tuple(edits))


def _is_meant(finding: Finding, line: FuseLine) -> bool:
    """Whether a finding tells of this fuse: it names the circuits that are alike."""
    if line.fuse.place == finding.where:
        return True
    told = finding.says.partition(":")[0]
    alike = finding.rule == "FUSE03" or line.fuse.rating_a == finding.value
    name = circuit(line.fuse.function)
    return alike and (name in told or capital(name) in told)


def _fitting_a(finding: Finding, line: FuseLine) -> float | None:
    """Return the largest rating that carries the load for hours and is small enough. [A]"""
    load_a = max((abs(wire.current_a) for wire in line.wires), default=0.0)
    least_a = load_a / CONTINUOUS_SHARE_MOST
    if finding.rule == "FUSE03":
        most_a = line.short_a / SHORT_OVER_RATING
    else:
        most_a = min((wire.ampacity_a for wire in line.wires), default=0.0)
    made = [
        each
        for each in ratings(line.fuse.kind)
        if least_a <= each <= most_a and each < line.fuse.rating_a
    ]
    return made[-1] if made else None


def _rating_for(work: Work, function: str) -> float | None:
    """Return the largest usual rating that protects every wire of a circuit. [A]"""
    wires = [
        wire
        for case in cases(work, NOMINAL, everything=True)
        for wire in case.conductors
        if wire.part.function == function and wire.part.path == "supply"
    ]
    if not wires:
        return None
    most_a = min(wire.ampacity_a for wire in wires)
    least_a = max(abs(wire.current_a) for wire in wires) / CONTINUOUS_SHARE_MOST
    made = [each for each in ratings(USUAL_KIND) if least_a <= each <= most_a]
    return made[-1] if made else None


def _path(element: str, work: Work, job: Job) -> str | None:
    """Return where the rating of a fuse stands in the job file."""
    refs = {
        rung.part.ref
        for case in work.answers.by_case.values()
        for load in case.loads
        for rung in load.ladder
        if rung.part.element == element
    }
    values = [each for ref in sorted(refs) for each in values_for(ref, "fuse", job)]
    return values[0].path if values else None


def _written(rating_a: float, kind: str) -> str:
    """Return a fuse as a job file has it: the kind only where it is no usual blade."""
    said = f"{rating_a:g} A"
    return said if kind == USUAL_KIND else f"{said} {kind}"
