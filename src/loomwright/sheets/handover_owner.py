"""What the owner must know: cautions that fit this rig, from the table."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from loomwright.quantities import unbroken
from loomwright.sheets.care import caution
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.sheets"


@dataclass(frozen=True, slots=True)
class OwnerCaution:
    """A caution for the owner: shown where the rig has every fact of `needs`, none of `lacks`.

    One that names a `caution` takes its words from the table of cautions.
    """

    key: str
    says: str | None
    needs: tuple[str, ...]
    lacks: tuple[str, ...]
    caution: str | None
    source: str
    standing: Standing


def owner_cautions() -> tuple[OwnerCaution, ...]:
    """Return every caution for owners, in the order they are told."""
    return read_rows(PACKAGE, "owner", OwnerCaution)


def owner_words(facts: Collection[str]) -> list[str]:
    """Return the cautions for the owner of a rig of which these facts hold."""
    facts = frozenset(facts)
    return [
        unbroken(each.says or caution(each.caution or "").says)
        for each in owner_cautions()
        if facts.issuperset(each.needs) and facts.isdisjoint(each.lacks)
    ]
