"""What the reference tables know by key, and the nearest key to one they do not know."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches
from functools import cache

UNKNOWN = "unknown"
"""Said of colours that follow no convention anybody knows."""

CHEMISTRY_WORDS = {
    "lead-acid flooded": "flooded",
    "lead-acid AGM": "agm",
    "lithium iron phosphate": "lifepo4",
}
"""Batteries as people call them, and their keys in the table."""

LED_FORM_WORDS = {
    "resistor": "string-3",
    "constant-current": "linear",
    "multivolt": "switch-mode",
}
"""LED lamps as people call them, and the keys of the LED form table."""

SHORT_LIST = 16


def functions() -> Sequence[str]:
    """Return the functions a wire may carry."""
    from loomwright.reference.functions import function_keys

    return function_keys()


def connectors() -> Sequence[str]:
    """Return the keys of the connectors."""
    from loomwright.reference.connectors import connector_keys

    return connector_keys()


def conventions_or_unknown() -> Sequence[str]:
    """Return the keys of the colour conventions, and the word for none."""
    from loomwright.reference.conventions import convention_keys

    return (*convention_keys(), UNKNOWN)


def joints() -> Sequence[str]:
    """Return the keys of the joints and contacts."""
    from loomwright.reference.joints import joints as rows

    return tuple(row.key for row in rows())


def insulations() -> Sequence[str]:
    """Return the keys of the insulations."""
    from loomwright.reference.insulation import insulations as rows

    return tuple(row.key for row in rows())


def fuse_kinds() -> Sequence[str]:
    """Return the keys of the fuse kinds."""
    from loomwright.reference.fuses import fuse_kinds as rows

    return tuple(row.key for row in rows())


def led_forms() -> Sequence[str]:
    """Return the LED forms by word and by key."""
    from loomwright.reference.leds import led_forms as rows

    return (*LED_FORM_WORDS, *(row.key for row in rows()))


def chemistries() -> Sequence[str]:
    """Return the battery chemistries by word and by key."""
    from loomwright.reference.batteries import chemistries as rows

    return (*CHEMISTRY_WORDS, *(row.key for row in rows()))


@cache
def lamp_kinds() -> Sequence[str]:
    """Return the kinds of lamp that the lamp rules ask for."""
    from loomwright.reference.rules import rules

    needs = (need for rule in rules() if rule.row.topic == "lamp" for need in rule.requirements)
    counted = {need.kind for need in needs if need.min_count is not None or need.max_count}
    return tuple(sorted(counted))


def jurisdictions() -> Sequence[str]:
    """Return the keys of the jurisdictions."""
    from loomwright.reference.rules import jurisdictions as rows

    return tuple(row.key for row in rows())


def legends() -> Sequence[str]:
    """Return the keys of the colour legends."""
    from loomwright.colours import legends as rows

    return tuple(rows())


def advice(text: str, words: Sequence[str], what: str) -> str:
    """Return the mend for a word that is not on a list: the nearest, or the list."""
    folded = {word.casefold(): word for word in words}
    near = get_close_matches(text.casefold(), folded, n=3, cutoff=0.6)
    if near:
        meant = " or ".join(folded[word] for word in near)
        return f"is no known {what}; did you mean {meant}?"
    if len(words) <= SHORT_LIST:
        return f"give one of: {', '.join(words)}"
    return f"is no known {what}; give one of the {len(words)}, such as {', '.join(words[:6])}"
