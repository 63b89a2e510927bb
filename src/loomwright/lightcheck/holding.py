"""How each command is held: in whose words, whether it stays on by itself, what can hurt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from loomwright.electrics.commands import Command
from loomwright.lightcheck.number_asks import BREAKAWAY_STEP
from loomwright.lightcheck.setting import Setting

Keeps = Literal["stays", "held", "nobody"]
"""Stays on by itself; must be held by a person or a prop; is not in the cab at all."""

CHOCKED: Final = "Ground level, wheels chocked, parking brake on."


@dataclass(frozen=True, slots=True)
class Act:
    """One action of the driver: what to do, whether it stays, and what can hurt."""

    do: str
    keeps: Keeps
    caution: str = ""


ACTS: Final[Mapping[str, Act]] = MappingProxyType(
    {
        "rest": Act("Everything off, key out.", "stays"),
        "park": Act("Park lamps on.", "stays"),
        "left": Act("Left signal on.", "stays"),
        "right": Act("Right signal on.", "stays"),
        "hazard": Act("Hazard signals on.", "stays"),
        "brake_pedal": Act("Hold the brake pedal.", "held"),
        "brake_lever": Act("Hold the lever of the brake controller all the way.", "held"),
        "reverse": Act(
            "Engine off, key on, reverse gear.",
            "stays",
            f"{CHOCKED} Engine off: nobody stands behind a vehicle in reverse with it running.",
        ),
        "fog": Act("Low beams and rear fog lamps on.", "stays"),
        "charge": Act(
            "Engine running, lamps off.",
            "stays",
            f"{CHOCKED} Out of gear. Never run an engine in a closed shop.",
        ),
        BREAKAWAY_STEP: Act(
            "Everything off, plug out, then pull the breakaway pin.",
            "nobody",
            "Wheels chocked: the brakes lock. Pin back in within a minute.",
        ),
    }
)

PROPPED: Final = (
    "A prop on the pedal can slip: seat pushed against it, engine off, parking brake on, "
    "wheels chocked, and take it away first."
)


@dataclass(frozen=True, slots=True)
class Holding:
    """How a command is held: the words, whether it stays on by itself, the caution."""

    hold: str
    keeps: Keeps
    caution: str


def holding(command: Command, setting: Setting, title: str = "") -> Holding:
    """Return how a command is held.

    Parameters
    ----------
    command : Command
        What the driver does; `breakaway` for the pin.
    setting : Setting
        Whether the engine runs.
    title : str
        What to say for an action that has no words of its own.
    """
    acts = [ACTS.get(each, Act(f"{title or command.title}.", "stays")) for each in command.acts]
    words = [each.do for each in acts]
    if command.key not in ("rest", "charge", "reverse", BREAKAWAY_STEP):
        words.insert(0, "Engine running." if setting.runs(command) else "Key on, engine off.")
    keeps: Keeps = "held" if any(each.keeps == "held" for each in acts) else acts[0].keeps
    cautions = [each.caution for each in acts if each.caution]
    if command.key not in ("rest", BREAKAWAY_STEP) and setting.runs(command) and not cautions:
        cautions.append(f"{CHOCKED} Out of gear.")
    return Holding(" ".join(words), keeps, " ".join(cautions))
