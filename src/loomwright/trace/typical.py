"""Typical rigs: a trailer or a vehicle that is not described, from the answers to a few questions.

What is answered holds for every rig; what is not stays open: several rigs stand for it, each with
a weight. Each rig is made from the text of a job file, so that every value nobody gave is one of
the stated defaults and stands in the rig's assumptions with its source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from loomwright.invalid import InvalidInput, raise_all
from loomwright.reference.nearest import nearest_known
from loomwright.rig.model import Rig
from loomwright.rig.read import read_rig
from loomwright.trace.typical_text import job_text

RIGS = 7
"""How many rigs stand for what is open: a prime, so that every question walks through all."""


@dataclass(frozen=True, slots=True)
class Ask:
    """A question: what may be answered, and how usual each answer is where nobody says.

    `words` says answers as a person does, where they do not speak for themselves.

    The shares are opinion (common practice): nobody has counted.
    """

    key: str
    says: str
    usual: Mapping[str, float]
    words: Mapping[str, str] = field(default_factory=dict)

    @property
    def known(self) -> tuple[str, ...]:
        """Everything that may be answered, the most usual first."""
        if self.key == "connector":
            return tuple(CONNECTORS)
        return (*self.usual, *ALSO.get(self.key, ()))


ASKS = (
    Ask(
        "connector",
        "Which connector joins trailer and vehicle?",
        {"7-way": 0.55, "4-flat": 0.3, "13-pin": 0.15},
    ),
    Ask("volts", "Vehicle system, 12 or 24 V?", {"12": 1.0}, {"12": "12 V", "24": "24 V"}),
    Ask(
        "lamps",
        "Lamps of the trailer?",
        {"filament": 0.5, "led": 0.35, "mixed": 0.15},
        {"filament": "bulbs", "led": "LED", "mixed": "some of both"},
    ),
    Ask(
        "feed",
        "What feeds the socket: the vehicle's own lamp wires (shared), relays, or a module?",
        {"shared": 0.45, "relay": 0.2, "module": 0.35},
        {"shared": "its own lamp wires", "relay": "relays", "module": "a module"},
    ),
    Ask(
        "returns",
        "Current comes home by ground wires or by the frame?",
        {"frame": 0.5, "wire": 0.5},
        {"frame": "by the frame", "wire": "by ground wires"},
    ),
    Ask(
        "brakes",
        "How does the trailer brake?",
        {"electric": 0.6, "none": 0.3, "surge": 0.1},
        {"none": "it has no brakes", "electric-over-hydraulic": "electric over hydraulic"},
    ),
    Ask("magnets", "How many brake magnets?", {"4": 0.6, "2": 0.3, "6": 0.1}),
    Ask("charge", "Is there a charge line?", {"yes": 0.8, "no": 0.2}),
    Ask("length", "Is it short, medium or long?", {"medium": 0.5, "short": 0.25, "long": 0.25}),
    Ask("converter", "Is there a tail lamp converter?", {"no": 0.8, "yes": 0.2}),
)
"""Every question, the weightiest first."""

CONNECTORS = {
    "7-way": "7-blade",
    "7-blade": "7-blade",
    "7-rv": "7-blade",
    "4-flat": "4-flat",
    "4-way": "4-flat",
    "5-flat": "5-flat-reverse",
    "5-way": "5-flat-reverse",
    "6-round": "6-round-a",
    "6-way": "6-round-a",
    "7-flat": "au-7-flat",
    "12-flat": "au-12-flat",
    "13-pin": "13-pin",
    "12n": "12n",
    "7-heavy": "7-heavy",
    "24n": "24n",
}
"""What people call a connector, and its key in the table of connectors."""

ALSO = {
    "brakes": ("electric-over-hydraulic",),
    "volts": ("24",),
}
"""Answers that may be given, but are never taken where nobody says."""


@dataclass(frozen=True, slots=True)
class TypicalRig:
    """One rig that stands for what is known, and its weight among the others."""

    rig: Rig
    weight: float
    answers: Mapping[str, str]


def read_answers(text: str) -> dict[str, str]:
    """Return the answers of ``connector=7-way,lamps=led``.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for every answer that cannot be used.
    """
    found: dict[str, str] = {}
    problems: list[InvalidInput] = []
    for each in filter(None, (part.strip() for part in text.split(","))):
        key, sign, value = (part.strip().lower() for part in each.partition("="))
        if not sign:
            problems.append(InvalidInput("typical", each, "write question=answer"))
        found[key] = value
    problems += _problems(found) if not problems else []
    raise_all(problems, "typical")
    return found


def rigs_for(answers: Mapping[str, str], rigs: int = RIGS) -> tuple[TypicalRig, ...]:
    """Return the rigs that stand for a few answers; their weights sum to one.

    Parameters
    ----------
    answers : mapping of str to str
        Answers by question, as in `ASKS`; what is left out, or "unknown", stays open.
    rigs : int
        How many rigs may stand for what is open; a prime.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for every question or answer that is not known.
    """
    given = {key: value for key, value in answers.items() if value not in ("", "unknown")}
    raise_all(_problems(given), "typical")
    weights: dict[tuple[tuple[str, str], ...], float] = {}
    for number in range(rigs):
        taken = tuple(_answers(given, number, rigs).items())
        weights[taken] = weights.get(taken, 0.0) + 1.0 / rigs
    return tuple(TypicalRig(_rig(taken), weight, dict(taken)) for taken, weight in weights.items())


def usual_answers(answers: Mapping[str, str]) -> dict[str, str]:
    """Return an answer to every question: those given, and the most usual where nobody says.

    Parameters
    ----------
    answers : mapping of str to str
        As for `rigs_for`.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for every question or answer that is not known.
    """
    given = {key: value for key, value in answers.items() if value not in ("", "unknown")}
    raise_all(_problems(given), "typical")
    taken: dict[str, str] = {}
    for ask in ASKS:
        shares = _usual(ask, taken)
        taken[ask.key] = given.get(ask.key) or max(shares, key=lambda each: shares[each])
    return _agreeing(taken)


def one_rig(answers: Mapping[str, str], number: int, rigs: int) -> TypicalRig:
    """Return one of so many rigs that stand for a few answers, without making the others.

    Parameters
    ----------
    answers : mapping of str to str
        As for `rigs_for`.
    number : int
        Which one, from 0.
    rigs : int
        How many there are; a prime.
    """
    taken = _answers(answers, number, rigs)
    return TypicalRig(_rig(tuple(taken.items())), 1.0 / rigs, taken)


def _problems(given: Mapping[str, str]) -> list[InvalidInput]:
    asks = {ask.key: ask for ask in ASKS}
    problems = []
    for key, value in given.items():
        if key not in asks:
            fix = nearest_known(key, tuple(asks))
            problems.append(InvalidInput(f"typical.{key}", value, f"no such question: {fix}"))
            continue
        if value not in asks[key].known:
            advice = nearest_known(value, asks[key].known)
            problems.append(InvalidInput(f"typical.{key}", value, advice))
    return problems


def _answers(given: Mapping[str, str], number: int, rigs: int) -> dict[str, str]:
    """Return every answer for one of the rigs: each question walks its answers at its own pace.

    Rig `number` takes the answer at (number x step + 1/2) / rigs of a question's shares, with
    another step for each question: each answer comes up in its share, and no two questions go
    together.
    """
    taken: dict[str, str] = {}
    for step, ask in enumerate(ASKS, start=1):
        place = ((number * (step % (rigs - 1) + 1)) % rigs + 0.5) / rigs
        taken[ask.key] = given.get(ask.key) or _at(_usual(ask, taken), place)
    return _agreeing(taken)


def _usual(ask: Ask, taken: Mapping[str, str]) -> Mapping[str, float]:
    """Return the shares of a question's answers, given what is answered before it."""
    connector = taken.get("connector", "")
    small = connector in ("4-flat", "4-way", "5-flat", "5-way")
    match ask.key:
        case "brakes" if small:
            return {"none": 0.75, "surge": 0.25}
        case "brakes" if connector in ("13-pin", "12n"):
            return {"surge": 0.8, "none": 0.2}
        case "returns" if connector in ("13-pin", "12n", "24n"):
            return {"wire": 1.0}
        case "length" if small:
            return {"short": 0.6, "medium": 0.4}
        case _:
            return ask.usual


def _at(shares: Mapping[str, float], place: float) -> str:
    reached = 0.0
    for answer, share in shares.items():
        reached += share
        if place < reached:
            return answer
    return list(shares)[-1]


def _agreeing(taken: dict[str, str]) -> dict[str, str]:
    """Return answers that go together: a step on a question that cannot matter is undone."""
    agreed = taken | {"connector": CONNECTORS[taken["connector"]]}
    if agreed["brakes"] not in ("electric", "electric-over-hydraulic"):
        agreed["magnets"] = "2"
    if agreed["connector"] not in ("7-blade", "6-round-a", "13-pin", "au-12-flat"):
        agreed["charge"] = "no"
    if agreed["connector"] not in ("7-blade", "6-round-a", "4-flat", "5-flat-reverse"):
        agreed["converter"] = "no"
    if agreed["converter"] == "yes":
        agreed["feed"] = "module"
    return agreed


@lru_cache(maxsize=256)
def _rig(taken: Sequence[tuple[str, str]]) -> Rig:
    return read_rig(job_text(dict(taken)), "typical rig")
