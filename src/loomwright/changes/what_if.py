"""What if a few values were different: which may be, and what they would do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from loomwright.changes.change import Edit
from loomwright.changes.changeable import Changeable, changeables
from loomwright.changes.key_numbers import numbers_now
from loomwright.changes.outcome import Outcome, outcome
from loomwright.checks.rule import Work
from loomwright.electrics.conditions import conditions_for
from loomwright.invalid import InvalidInput, raise_all
from loomwright.reference.nearest import nearest_known
from loomwright.rig.model import Rig
from loomwright.rig.read import read_job, read_rig


def what_if(
    work: Work, text: str, changes: Mapping[str, str], *, conditions: str = "nominal"
) -> Outcome:
    """Return what a few changes of the job file would do to a rig.

    Parameters
    ----------
    work : Work
        The rig as it is.
    text : str
        Its job file.
    changes : mapping of str to str
        What is to stand at each path, as a job file says it: `changeables` lists the paths.
    conditions : str
        Key of the conditions.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`: for every path that cannot be changed, else for every value.
    """
    known = changeables(work.rig, read_job(text), text)
    return what_would(work, text, edits_for(known, changes), conditions=conditions)


def what_would(
    work: Work, text: str, edits: Sequence[Edit], *, conditions: str = "nominal"
) -> Outcome:
    """Return what edits of the job file would do to a rig that is solved.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for every value that cannot be used, or conditions nobody knows.
    """
    known = [each.key for each in conditions_for(work.rig)]
    if conditions not in known:
        advice = nearest_known(conditions, known)
        raise_all([InvalidInput("conditions", conditions, advice)], "the change")

    def read(changed: str) -> Rig:
        return replace(read_rig(changed), units=work.rig.units)

    result = outcome(lambda: numbers_now(work, conditions), text, edits, read, conditions)
    # the lines are those of the changed text, which nobody has
    raise_all([each.at(each.field) for each in result.problems], "the change")
    return result


def edits_for(known: Sequence[Changeable], changes: Mapping[str, str]) -> tuple[Edit, ...]:
    """Return what is to be written where.

    Parameters
    ----------
    known : sequence of Changeable
        What may be changed on the rig.
    changes : mapping of str to str
        What is to stand at each path.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for every path that nothing on the rig goes by, and every empty value.
    """
    paths = [each.path for each in known]
    problems = []
    for path, value in changes.items():
        if path not in paths:
            problems.append(InvalidInput("changes", path, nearest_known(path, paths)))
        elif not value.strip():
            problems.append(InvalidInput(path, value, "say what is to stand there"))
    raise_all(problems, "what is tried")
    return tuple(Edit(path, value.strip()) for path, value in changes.items())
