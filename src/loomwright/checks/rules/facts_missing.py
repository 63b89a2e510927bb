"""LAWS04: a rule cannot be judged for want of a fact."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.law import facts_of, kind_words, rules_binding
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import listed
from loomwright.reference.rules import Rule as Law
from loomwright.rig.model import Braking

CODE = "LAWS04"
SOURCE = "fmvss-108-table"

ASKED = {
    "width_mm": "overall width",
    "length_mm": "overall length",
    "gross_mass_kg": "gross mass",
    "trailer_kind": "kind of trailer",
    "un_category": "category O1 to O4",
    "built": "date it was built",
    "brake_type": "kind of brakes",
    "axles": "number of axles",
    "installer": "who does the work",
    "axle_share": "share of axle weights",
    "tow_rating_ratio": "rating of the vehicle",
}


def facts_to_ask_for(work: Work) -> Iterator[Finding]:
    """Name the facts without which lamp and breakaway rules cannot be judged.

    One note for all of them, naming the lamps that hang on each.
    """
    facts = facts_of(work.rig)
    missing: dict[str, list[str]] = {}
    for law in rules_binding(work.rig, "lamp", "reflector", "breakaway"):
        if work.rig.trailer.braking is Braking.NONE and _is_about_brakes(law):
            continue
        for fact in law.unknown(facts):
            missing.setdefault(fact, []).extend(_lamps(law))
    if not missing:
        return
    asked = [ASKED.get(fact, fact.replace("_", " ")) for fact in missing]
    hanging = list(dict.fromkeys(kind for kinds in missing.values() for kind in kinds))
    lamps = f". It hangs on that whether it needs: {listed(hanging, most=6)}" if hanging else ""
    yield Finding(
        rule=CODE,
        severity=Severity.NOTE,
        where="trailer",
        says=f"Not known, so not every rule can be judged: {listed(asked)}{lamps}.",
        why="The rules depend on it.",
        fix=f"Add to the rig: {listed(asked)}.",
        source=SOURCE,
        station="load",
    )


def _is_about_brakes(law: Law) -> bool:
    return any(condition.fact == "brake_type" for condition in law.conditions)


def _lamps(law: Law) -> list[str]:
    return [kind_words(need.kind) for need in law.requirements if need.min_count]


RULE = Rule(CODE, "Fact missing for a rule of law", SOURCE, facts_to_ask_for)
