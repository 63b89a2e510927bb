"""What a rule is, what it looks at, and what a finding says."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from loomwright.electrics.answers import Answers
from loomwright.hookup.model import Hookup
from loomwright.rig.model import Rig


class Severity(StrEnum):
    """How much a finding matters, in words."""

    DANGER = "danger"
    MUST = "must be mended"
    SHOULD = "should be mended"
    NOTE = "note"

    @property
    def rank(self) -> int:
        """0 for the gravest."""
        return list(Severity).index(self)

    @property
    def to_mend(self) -> bool:
        """Whether something is to be done about it; a note only informs."""
        return self is not Severity.NOTE


@dataclass(frozen=True, slots=True)
class Work:
    """All that a rule may look at: the rig, its pairing, and its solved circuits."""

    rig: Rig
    hookup: Hookup
    answers: Answers


@dataclass(frozen=True, slots=True)
class Finding:
    """Something to put right, or to know.

    Parameters
    ----------
    rule : str
        Code of the rule, e.g. ``DROP01``.
    severity : Severity
        How much it matters.
    where : str
        The place, in words a person finds on the rig.
    says : str
        What is wrong, one sentence.
    why : str
        Why it matters, one sentence.
    fix : str
        What to do, as an instruction.
    source : str
        Source keys with a place.
    value, limit : float or None
        By how much, where it is a number.
    unit : str
        Unit of both.
    station : str
        Station of the run it belongs to.
    command : str
        The command it shows under, if any.
    standing : str
        Standing of the limit: found, memory or common practice.
    """

    rule: str
    severity: Severity
    where: str
    says: str
    why: str
    fix: str
    source: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    station: str = ""
    command: str = ""
    standing: str = "found"


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule: its code, what it watches, its source, and the function that finds."""

    code: str
    title: str
    source: str
    find: Callable[[Work], Iterator[Finding]]
