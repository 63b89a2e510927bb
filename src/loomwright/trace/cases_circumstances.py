"""Circumstances: people say that it rained or bumped where that matters, seldom where not.

Each circumstance of a case counts once, however often it is told. The shares are opinion
(common practice).
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from loomwright.reference.fault_kinds import FaultKind
from loomwright.trace.cases_read import Case

UNSTEADY_NOTE = re.compile(
    r"sometimes|now and then|intermittent|at times|random|apart\b|times in|wiggl|comes and goes"
    r"|on and off|every (few|so|now|\w+ (minute|mile|hour|day)s)|when .* moved|tension",
    re.IGNORECASE,
)
WET_NOTE = re.compile(r"\brain|\bwet\b|\bdamp\b|\bwash|launch", re.IGNORECASE)
BUMP_NOTE = re.compile(r"\bbump|rough road|pothole|gravel|vibrat", re.IGNORECASE)

LOOSE = ("intermittent_open", "intermittent_short")
POOR = ("high_resistance",)
TOLD: dict[str, Mapping[str, float]] = {
    "bump": dict.fromkeys(LOOSE, 1.0) | dict.fromkeys(POOR, 0.7) | {"leakage": 0.4},
    "tap": dict.fromkeys((*LOOSE, *POOR), 1.0),
    "rain": {"leakage": 1.0, **dict.fromkeys(POOR, 0.45), **dict.fromkeys(LOOSE, 0.3)},
    "rolling": dict.fromkeys(LOOSE, 1.0) | dict.fromkeys(POOR, 0.85) | {"leakage": 0.7},
    "unsteady": dict.fromkeys(LOOSE, 1.0) | dict.fromkeys(POOR, 0.7) | {"leakage": 0.6},
    "breakaway": {},
}
"""For each circumstance and form, how likely somebody would come to tell of it."""

ELSE = {"bump": 0.3, "tap": 0.25, "rain": 0.2, "rolling": 0.6, "unsteady": 0.3, "breakaway": 0.3}
"""The same for every other form."""


def circumstances(case: Case) -> frozenset[str]:
    """Return the circumstances that a case tells of, by its commands and its notes."""
    found = {act for seen in case.seen for act in seen.command.split("+") if act in TOLD}
    if any(seen.word in ("intermittent", "flicker") for seen in case.seen):
        found.add("unsteady")
    notes = " ".join(seen.note for seen in case.seen)
    for name, pattern in (("unsteady", UNSTEADY_NOTE), ("rain", WET_NOTE), ("bump", BUMP_NOTE)):
        if pattern.search(notes):
            found.add(name)
    return frozenset(found)


def fits(kind: FaultKind, told: frozenset[str]) -> float:
    """Return how well a kind of fault fits the circumstances told, 1 for well.

    Parameters
    ----------
    kind : FaultKind
        The kind of fault.
    told : frozenset of str
        As `circumstances` returns them.
    """
    share = 1.0
    own = {shown.command for shown in kind.signs}
    for each in told:
        usual = TOLD[each].get(kind.form, ELSE[each])
        share *= max(usual, 0.8) if each in own else usual
    return share
