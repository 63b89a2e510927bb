"""Readings of the light checks before and after the work, side by side, and what was not tested."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from loomwright.lightcheck.model import Expectation, Standing, Step
from loomwright.store.checks_values import KeptAnswer, LightCheck

Plain = dict[str, Any]

NO_CHECK = {
    "before": "No light check was made before the work: what was wrong before is not known.",
    "after": "No light check was made after the work: nothing on this record was proved by one.",
}


@dataclass(frozen=True, slots=True)
class CheckMade:
    """A light check, and what holds for each expectation of its plan."""

    check: LightCheck
    answers: Mapping[str, KeptAnswer]

    def to_plain(self) -> Plain:
        """Return what the record says of the check as a whole."""
        given = [each for each in self.answers.values() if _is_tested(each)]
        return {
            "number": self.check.number,
            "title": self.check.title,
            "rig_version": self.check.version,
            "tester": self.check.plan.tester,
            "people": self.check.plan.people,
            "who": sorted({self.check.begun_by, *(each.who for each in given)}),
            "at": self.check.begun_at.isoformat(),
            "answered": len(given),
            "asked": sum(len(step.expectations) for step in self.check.plan.steps),
        }


def reading_rows(before: CheckMade | None, after: CheckMade | None) -> list[Plain]:
    """Return every expectation that was answered in either check, in the order of the plan."""
    seen: set[str] = set()
    rows = []
    for made in (after, before):
        for step, each in _expectations(made):
            sides = {"before": _side(before, each.key), "after": _side(after, each.key)}
            if each.key not in seen and any(sides.values()):
                rows.append({**_asked(step, each), **sides})
            seen.add(each.key)
    return rows


def untested(before: CheckMade | None, after: CheckMade | None) -> list[str]:
    """Return what was not tested, in words."""
    said = [NO_CHECK["before"]] if before is None else []
    if after is None:
        return [*said, NO_CHECK["after"]]
    for step in after.check.plan.steps:
        left = [each.title for each in step.expectations if _side(after, each.key) is None]
        if left:
            is_all = len(left) == len(step.expectations) > 1
            what = f"none of its {len(left)} places" if is_all else "; ".join(left)
            said.append(f"{step.hold.rstrip('.')}: {what}")
    return [*said, *after.check.plan.not_tested]


def _expectations(made: CheckMade | None) -> Iterator[tuple[Step, Expectation]]:
    for step in made.check.plan.steps if made is not None else ():
        for each in step.expectations:
            yield step, each


def _asked(step: Step, each: Expectation) -> Plain:
    return {
        "key": each.key,
        "hold": step.hold,
        "command": step.command,
        "title": each.title,
        "quantity": str(each.quantity),
        "words": [str(word) for word in each.words],
        "low": each.low,
        "nominal": each.nominal,
        "high": each.high,
        "plugged": each.plugged,
    }


def _side(made: CheckMade | None, key: str) -> Plain | None:
    """Return what one check says of an expectation; None if it was not tested."""
    kept = None if made is None else made.answers.get(key)
    if kept is None or not _is_tested(kept) or kept.answer.observation is None:
        return None
    observation = kept.answer.observation
    return {
        "value": observation.value,
        "word": None if observation.word is None else str(observation.word),
        "standing": str(kept.answer.standing),
        "says": kept.answer.says,
        "note": observation.note,
        "tester": observation.tester,
        "who": kept.who,
        "at": kept.at.isoformat(),
    }


def _is_tested(kept: KeptAnswer) -> bool:
    return kept.answer.standing is not Standing.NOT_TESTED and kept.answer.observation is not None
