"""Lamp, wiring and brake rules by jurisdiction, each with its citation.

Guidance only: local law, the makers' instructions and a licensed professional come first.
"""

from __future__ import annotations

import json
import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from loomwright.invalid import InvalidInput
from loomwright.reference.nearest import nearest_known
from loomwright.reference.trailer_facts import TrailerFacts
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.reference"

DEFER_NOTICE = (
    "Guidance only: local law, the makers' instructions and a licensed professional come first."
)

RuleSeverity = Literal["legal", "advice"]
Confidence = Literal["high", "medium", "low"]

TESTS: dict[str, Callable[[Any, Any], bool]] = {
    "at_least": operator.ge,
    "more_than": operator.gt,
    "at_most": operator.le,
    "less_than": operator.lt,
    "is": operator.eq,
    "one_of": lambda value, wanted: value in wanted,
    "none_of": lambda value, wanted: value not in wanted,
}
SPANS = ("height_mm", "edge_mm", "gap_between_mm", "spacing_mm")


@dataclass(frozen=True, slots=True)
class Span:
    """A range of millimetres, open where an end is None."""

    from_mm: float | None
    to_mm: float | None

    def holds(self, value_mm: float) -> bool:
        """Whether the value lies inside, the ends included."""
        return not (
            (self.from_mm is not None and value_mm < self.from_mm)
            or (self.to_mm is not None and value_mm > self.to_mm)
        )


@dataclass(frozen=True, slots=True)
class Condition:
    """One thing that must hold for a rule to apply: a fact, a test and its limit."""

    fact: str
    test: str
    limit: float | str | bool | tuple[str, ...]

    def holds(self, facts: TrailerFacts) -> bool | None:
        """Whether it holds, None where the fact is not known."""
        value = facts.known(self.fact)
        if value is None:
            return None
        if isinstance(value, frozenset):
            return self.limit in value
        return TESTS[self.test](value, self.limit)


@dataclass(frozen=True, slots=True)
class Requirement:
    """What a rule asks for.

    `kind` names a lamp, a reflector or a condition. `min_count` of 0 means not required, None
    means that no number is set. `height_if_forced_mm` is the higher limit that may be used
    where the body leaves no other place. `more` holds what only this kind needs.
    """

    kind: str
    min_count: int | None
    max_count: int | None
    colours: tuple[str, ...]
    height_mm: Span | None
    height_if_forced_mm: float | None
    edge_mm: Span | None
    gap_between_mm: Span | None
    spacing_mm: Span | None
    face: str | None
    placement: str | None
    replaces: tuple[str, ...]
    more: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class RuleRow:
    """The line of a rule in its table; two of its cells are JSON."""

    key: str
    jurisdiction: str
    citation: str
    topic: str
    severity: RuleSeverity
    applies_when: str | None
    requires: str | None
    statement: str
    note: str | None
    confidence: Confidence
    memory_parts: tuple[str, ...]
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: when it applies, what it requires, and where it stands written.

    Without requirements it informs and is not to be scored. `memory_parts` of the row names
    what was filled in from memory in a rule that was otherwise found.
    """

    row: RuleRow
    conditions: tuple[Condition, ...]
    requirements: tuple[Requirement, ...]

    @property
    def key(self) -> str:
        """Short name."""
        return self.row.key

    @property
    def citation(self) -> str:
        """Section that it stands in."""
        return self.row.citation

    @property
    def statement(self) -> str:
        """The rule in our own words."""
        return self.row.statement

    def applies(self, facts: TrailerFacts) -> bool | None:
        """Whether the rule binds this trailer, None where a needed fact is not known."""
        answers = [condition.holds(facts) for condition in self.conditions]
        answers.append(facts.is_about(self._unit()))
        if False in answers:
            return False
        return None if None in answers else True

    def unknown(self, facts: TrailerFacts) -> tuple[str, ...]:
        """Facts to ask for before `applies` can tell; empty where it can."""
        if self.applies(facts) is not None:
            return ()
        return tuple(c.fact for c in self.conditions if c.holds(facts) is None)

    def _unit(self) -> str:
        limits = (c.limit for c in self.conditions if c.fact == "unit")
        return str(next(limits, "trailer"))


@dataclass(frozen=True, slots=True)
class Jurisdiction:
    """A body of law; the rules of the one it lies `within` bind as well."""

    key: str
    title: str
    within: str | None
    heights_run_to: str
    source: str
    standing: Standing


def jurisdictions() -> tuple[Jurisdiction, ...]:
    """Every jurisdiction in the table."""
    return read_rows(PACKAGE, "jurisdictions", Jurisdiction)


def jurisdiction(key: str, field: str = "jurisdiction") -> Jurisdiction:
    """Return the jurisdiction with this key; raise `InvalidInput` if none."""
    for row in jurisdictions():
        if row.key == key.upper():
            return row
    known = tuple(row.key for row in jurisdictions())
    raise InvalidInput(field, key, nearest_known(key.upper(), known))


@cache
def rules() -> tuple[Rule, ...]:
    """Every rule in the table."""
    return tuple(
        Rule(row, _conditions(row.applies_when), _requirements(row.requires))
        for row in read_rows(PACKAGE, "rules", RuleRow)
    )


def rule(key: str, field: str = "rule") -> Rule:
    """Return the rule with this key; raise `InvalidInput` if none."""
    for one in rules():
        if one.key == key:
            return one
    raise InvalidInput(field, key, nearest_known(key, tuple(one.key for one in rules())))


def rules_for(key: str, field: str = "jurisdiction") -> tuple[Rule, ...]:
    """Return the rules of a jurisdiction and of those it lies within.

    Raises
    ------
    InvalidInput
        If the jurisdiction is not known.
    """
    binding = set()
    place: str | None = key
    while place is not None:
        found = jurisdiction(place, field)
        binding.add(found.key)
        place = found.within
    return tuple(one for one in rules() if one.row.jurisdiction in binding)


def _conditions(text: str | None) -> tuple[Condition, ...]:
    facts: dict[str, dict[str, Any]] = json.loads(text or "{}")
    return tuple(
        Condition(fact, test, tuple(limit) if isinstance(limit, list) else limit)
        for fact, tests in facts.items()
        for test, limit in tests.items()
    )


def _requirements(text: str | None) -> tuple[Requirement, ...]:
    cells: list[dict[str, Any]] = json.loads(text or "[]")
    return tuple(_requirement(cell) for cell in cells)


def _requirement(cell: dict[str, Any]) -> Requirement:
    spans = {name: _span(cell.pop(name, None)) for name in SPANS}
    return Requirement(
        kind=cell.pop("kind"),
        min_count=cell.pop("min_count", None),
        max_count=cell.pop("max_count", None),
        colours=tuple(cell.pop("colours", ())),
        height_if_forced_mm=cell.pop("height_if_forced_mm", None),
        face=cell.pop("face", None),
        placement=cell.pop("placement", None),
        replaces=tuple(cell.pop("replaces", ())),
        more=cell,
        **spans,
    )


def _span(cell: dict[str, float] | None) -> Span | None:
    return None if cell is None else Span(cell.get("from"), cell.get("to"))
