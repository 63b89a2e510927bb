"""What a case tells of its rig, as answers for typical rigs and as what the rig may have."""

from __future__ import annotations

import re
from collections.abc import Mapping

from loomwright.reference.fault_kinds import FaultKind
from loomwright.trace.beyond_ways import half_of
from loomwright.trace.cases_read import Case

CONNECTORS = (
    (r"4.?(flat|way|pin)", "4-flat"),
    (r"5.?(flat|way|pin)", "5-flat"),
    (r"6.?(round|way|pin)", "6-round"),
    (r"13.?(pin|pole)|euro", "13-pin"),
    (r"12n", "12n"),
    (r"12.?pin", "12-flat"),
    (r"7.?pin", "7-flat"),
    (r"j560|heavy", "7-heavy"),
    (r"7.?(way|blade|rv)", "7-way"),
)
"""What people call a connector, and what it is called in answers."""

WITH_BRAKES = frozenset({"7-way", "6-round", "7-flat", "12-flat"})
NO_TRAILER = re.compile(r"\bnone\b|\bno trailer\b", re.IGNORECASE)
UNLIKELY = 0.03
"""For what a case says the rig has not: people forget to say."""


def answers_of(case: Case) -> dict[str, str]:
    """Return the answers for typical rigs that a case gives; what it leaves open is left out."""
    text = {key: value.lower() for key, value in case.rig.items()}
    found: dict[str, str] = {}
    if connector := _connector(text.get("connector", "")):
        found["connector"] = connector
    lamps = text.get("lamps", "")
    for word, kind in (
        ("mixed", "mixed"),
        ("led", "led"),
        ("filament", "filament"),
        ("bulb", "filament"),
    ):
        if re.search(rf"\b{word}", lamps):
            found["lamps"] = kind
            break
    found |= _brakes(case, text.get("brakes", ""))
    vehicle = text.get("vehicle", "")
    if re.search(r"module|european", vehicle):
        found["feed"] = "module"
    if "converter" in vehicle:
        found["converter"] = "yes"
    if re.search(r"24 ?v", " ".join(text.values())):
        found["volts"] = "24"
    return found


def _connector(text: str) -> str:
    return next((name for pattern, name in CONNECTORS if re.search(pattern, text)), "")


def _brakes(case: Case, text: str) -> dict[str, str]:
    if re.search(r"hydraulic", text):
        return {"brakes": "electric-over-hydraulic"}
    if re.search(r"\bsurge|overrun", text):
        return {"brakes": "surge"}
    speaks = any(seen.spot.part in ("brakes", "controller", "hub") for seen in case.seen)
    if re.search(r"electric", text) or speaks:
        found = {"brakes": "electric"}
        if count := re.search(r"(\d) magnets", text):
            found["magnets"] = _magnets(int(count[1]))
        elif re.search(r"tandem|two axles", text):
            found["magnets"] = "4"
        elif "single" in text:
            found["magnets"] = "2"
        return found
    return {"brakes": "none"} if re.search(r"\bnone\b|\bno\b", text) else {}


def _magnets(count: int) -> str:
    """Return the number of magnets of whole axles nearest to what was said, 2 to 6."""
    return str(min(max(2 * round(count / 2 + 0.1), 2), 6))


def possible(kind: FaultKind, case: Case) -> float:
    """Return how likely a rig like that of a case can have a kind of fault at all."""
    answers, share = answers_of(case), 1.0
    for need in kind.needs:
        share *= _has(need, answers, case)
    if NO_TRAILER.search(case.rig.get("trailer", "")) and half_of(kind.place) != "vehicle":
        share *= UNLIKELY
    return share


def _has(need: str, answers: Mapping[str, str], case: Case) -> float:
    connector = answers.get("connector", "")
    braked = {"electric": 1.0, "electric-over-hydraulic": 0.6}.get(
        answers.get("brakes", "?"), UNLIKELY
    )
    if "brakes" not in answers:
        braked = 0.7 if connector in WITH_BRAKES or not connector else 0.1
    charges = 0.85 if connector not in ("4-flat", "5-flat", "12n", "7-flat") else UNLIKELY
    if any(seen.spot.part == "charge" or seen.spot.name == "charge" for seen in case.seen):
        charges = 1.0
    lamps = answers.get("lamps", "")
    led = {"led": 1.0, "mixed": 0.8, "filament": UNLIKELY}.get(lamps, 0.5)
    filament = {"led": UNLIKELY, "mixed": 0.8, "filament": 1.0}.get(lamps, 0.6)
    module = 1.0 if answers.get("feed") == "module" else 0.5
    converter = 1.0 if answers.get("converter") == "yes" else 0.2
    thirteen = {"13-pin": 1.0, "12n": 0.6}.get(connector, UNLIKELY if connector else 0.1)
    return {
        "brakes": braked,
        "breakaway": braked,
        "charge": charges,
        "led": led,
        "filament": filament,
        "module": module,
        "converter": converter,
        "monitored": 0.5,
        "mixed": 0.3,
        "second": 0.25,
        "reverse": 0.7,
        "13-pin": thirteen,
    }.get(need, 1.0)


def lacking(case: Case) -> frozenset[str]:
    """Return what the rig of a case has not, in the words of what kinds of fault need."""
    answers = answers_of(case)
    return frozenset(need for need in NEEDS if _has(need, answers, case) <= UNLIKELY)


NEEDS = ("brakes", "breakaway", "charge", "led", "filament", "converter", "13-pin")
"""What a kind of fault may need and a rig may lack for certain."""
