"""How likely a word is to be said where another is true: eyes, and the words people choose."""

from __future__ import annotations

from collections.abc import Mapping

Belief = Mapping[str, float]
"""Words with the share of belief in each; sums to one."""

MISTAKEN = 0.06
"""Share of observations that are wrong or mean something else."""

NEAR: dict[str, dict[str, float]] = {
    "off": {"glow": 0.05, "weak": 0.05, "no_trailer": 0.05, "intermittent": 0.04, "dim": 0.03},
    "glow": {"dim": 0.25, "off": 0.15, "on": 0.15, "wrong": 0.1, "flicker": 0.03},
    "dim": {"weak": 0.25, "glow": 0.2, "normal": 0.12, "flicker": 0.05, "wrong": 0.03},
    "normal": {"on": 0.25, "bright": 0.12, "flashing": 0.05, "connected": 0.2, "whole": 0.1},
    "bright": {"normal": 0.35, "on": 0.25},
    "on": {"normal": 0.2, "bright": 0.15, "wrong": 0.12, "glow": 0.06, "locked": 0.07},
    "flashing": {"normal": 0.25, "on": 0.1, "flashing_dim": 0.05, "bright": 0.05, "wrong": 0.06},
    "flashing_dim": {"dim": 0.25, "flashing": 0.15, "glow": 0.1, "wrong": 0.07, "flicker": 0.04},
    "flashing_fast": {"flashing": 0.2, "fault": 0.05, "wrong": 0.03},
    "flicker": {"intermittent": 0.35, "dim": 0.1, "off": 0.05, "flashing": 0.05},
    "intermittent": {"flicker": 0.2, "off": 0.2, "weak": 0.1, "wrong": 0.03, "fault": 0.03},
    "wrong": {"on": 0.15, "glow": 0.1, "flashing": 0.1, "off": 0.08, "dim": 0.05},
    "weak": {"dim": 0.1, "off": 0.1, "intermittent": 0.06, "grabby": 0.03, "normal": 0.05},
    "grabby": {"locked": 0.2, "intermittent": 0.15, "weak": 0.05},
    "locked": {"on": 0.2, "grabby": 0.15, "hot": 0.05},
    "hot": {"burnt": 0.15, "smoke": 0.15, "locked": 0.05},
    "burnt": {"smoke": 0.25, "hot": 0.2},
    "smoke": {"burnt": 0.3, "hot": 0.2},
    "blown": {"off": 0.15},
    "whole": {"normal": 0.4},
    "fault": {
        "no_trailer": 0.15,
        "overload": 0.12,
        "intermittent": 0.03,
        "trailer_connected": 0.03,
    },
    "overload": {"fault": 0.3, "no_trailer": 0.02},
    "no_trailer": {"fault": 0.15, "off": 0.12, "intermittent": 0.05},
    "connected": {"normal": 0.35, "trailer_connected": 0.2, "on": 0.05},
    "trailer_connected": {"connected": 0.2, "fault": 0.15},
    "skid": {"locked": 0.3, "grabby": 0.2, "flat": 0.2},
    "flat": {"off": 0.15, "weak": 0.2},
}
"""For what is true, other words that are said for it; what is left is the word itself."""

ALPHABET = len(NEAR)


def said(word: str, true: Belief, trust: float = 1.0) -> float:
    """Return how likely a word is said where this is believed to be so.

    Parameters
    ----------
    word : str
        What was said.
    true : mapping of str to float
        What is believed to be so.
    trust : float
        How much of the belief to count; the rest says nothing.
    """
    kept = (1.0 - MISTAKEN) * trust
    spread = (1.0 - kept) / ALPHABET
    return spread + kept * sum(share * _said_for(word, so) for so, share in true.items())


def _said_for(word: str, true: str) -> float:
    near = NEAR.get(true, {})
    return 1.0 - sum(near.values()) if word == true else near.get(word, 0.0)


def mixed(*parts: tuple[float, Belief]) -> dict[str, float]:
    """Return beliefs put together by weight; the weights need not sum to one."""
    total = sum(weight for weight, belief in parts if belief)
    out: dict[str, float] = {}
    for weight, belief in parts:
        whole = sum(belief.values())
        for word, share in belief.items():
            out[word] = out.get(word, 0.0) + weight * share / (whole * total)
    return out


def even(*words: str) -> dict[str, float]:
    """Return a belief spread evenly over words."""
    return dict.fromkeys(words, 1.0 / len(words))
