"""Which lamp and brake rules bind a trailer, and what they ask of it.

Guidance only: local law and licensed practice come first.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, cast, get_args

from loomwright.reference.rules import Requirement, Rule, rules_for
from loomwright.reference.trailer_facts import BrakeType, TrailerFacts, TrailerKind
from loomwright.rig.model import Braking, Rig

Category = Literal["O1", "O2", "O3", "O4"]

COMMERCIAL = "US-CMV"
"""Federal motor carrier rules; they bind commercial rigs in every state."""

REFLECTORS = ("reflex", "triangle", "conspicuity")
"""How the kinds of reflectors and markings begin, for a rig lists lamps and no reflectors."""

CATEGORIES_KG: tuple[tuple[Category, float], ...] = (("O1", 750.0), ("O2", 3500.0), ("O3", 10000.0))
"""Categories of trailers by permitted mass, O4 above. Source: UN R.E.3, from memory."""

KINDS = {
    "tail_lamp": "tail lamp",
    "stop_lamp": "stop lamp",
    "turn_signal_rear": "rear turn signal",
    "plate_lamp": "plate lamp",
    "side_marker_front": "front side marker",
    "side_marker_mid": "middle side marker",
    "side_marker_rear": "rear side marker",
    "side_marker_each_side": "side marker",
    "clearance_front": "front clearance lamp",
    "clearance_rear": "rear clearance lamp",
    "identification_rear": "rear identification lamp",
    "rear_fog_lamp": "rear fog lamp",
    "reversing_lamp": "reversing lamp",
    "front_position_lamp": "front position lamp",
    "end_outline_front": "front end-outline lamp",
    "end_outline_rear": "rear end-outline lamp",
    "abs_lamp": "antilock warning lamp",
    "reflex_rear": "rear reflector",
    "reflex_front": "front reflector",
    "reflex_side_front": "front side reflector",
    "reflex_side_mid": "middle side reflector",
    "reflex_side_rear": "rear side reflector",
    "reflex_side_each_side": "side reflector",
    "triangle_rear": "rear triangle",
    "conspicuity_marking": "reflective side and rear marking",
}


def kind_words(kind: str) -> str:
    """Return what the trade calls a lamp or reflector of the rules."""
    return KINDS.get(kind, kind.replace("_", " "))


def is_reflector(kind: str) -> bool:
    """Whether a kind of the rules is a reflector or marking, not a lamp."""
    return kind.startswith(REFLECTORS)


def facts_of(rig: Rig) -> TrailerFacts:
    """Return what the rules need to know of a trailer; what was left open or assumed is None."""
    trailer = rig.trailer
    assumed = {each.field for each in rig.assumptions}
    kind = "" if "trailer.kind" in assumed else trailer.kind.replace(" ", "_")
    width_m, length_m, mass_kg, axles = (
        0 if f"trailer.{name}" in assumed else value
        for name, value in (
            ("width", trailer.width_m),
            ("length", trailer.length_m),
            ("gross_mass", trailer.gross_mass_kg),
            ("axles", trailer.axles),
        )
    )
    return TrailerFacts(
        width_mm=1000 * width_m or None,
        length_mm=1000 * length_m or None,
        gross_mass_kg=mass_kg or None,
        trailer_kind=cast("TrailerKind", kind) if kind in get_args(TrailerKind) else None,
        un_category=_category(mass_kg),
        built=trailer.built or None,
        braked=trailer.braking is not Braking.NONE,
        brake_type=_brake_type(trailer.braking),
        axles=int(axles) or None,
        commercial=rig.commercial,
        installer="business" if rig.shop else None,
        unit="trailer",
        connector=trailer.plug,
        has_battery_aboard=trailer.battery is not None,
        lamp_fitted=frozenset(kind for lamp in trailer.lamps for kind in lamp.counts_as),
    )


def rules_binding(rig: Rig, *topics: str) -> Iterator[Rule]:
    """Yield the rules with the force of law that may bind this rig, of these topics.

    Whether each applies to this very trailer is for `Rule.applies` to say.
    """
    places = [rig.jurisdiction]
    if rig.commercial and rig.jurisdiction.startswith("US"):
        places.append(COMMERCIAL)
    seen = {rule.key: rule for place in places for rule in rules_for(place)}
    for rule in seen.values():
        if rule.row.severity == "legal" and rule.row.topic in topics:
            yield rule


def needs(rig: Rig, *topics: str) -> Iterator[tuple[Rule, Requirement]]:
    """Yield each thing that a rule asks of this trailer, with the rule."""
    facts = facts_of(rig)
    for rule in rules_binding(rig, *topics):
        if rule.applies(facts):
            for requirement in rule.requirements:
                yield rule, requirement


def count_of(rig: Rig, kind: str) -> int:
    """Return how many lamps of a kind the trailer has; any side marker is one of a side."""
    kinds = [each for lamp in rig.trailer.lamps for each in lamp.counts_as]
    if kind == "side_marker_each_side":
        return sum(each.startswith("side_marker") for each in kinds)
    return kinds.count(kind)


def _category(mass_kg: float) -> Category | None:
    if mass_kg <= 0:
        return None
    return next((name for name, most_kg in CATEGORIES_KG if mass_kg <= most_kg), "O4")


def _brake_type(braking: Braking) -> BrakeType | None:
    if braking is Braking.NONE:
        return None
    return cast("BrakeType", braking.value.replace("-", "_"))
