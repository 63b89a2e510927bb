"""What colours suggest: habits of cables and looms, a weak beginning and no more."""

from __future__ import annotations

from collections import Counter
from functools import cache

from loomwright.colours import Colour
from loomwright.invalid import InvalidInput
from loomwright.reference.conventions import convention, convention_keys


def habit_share(colour: Colour, function: str) -> float:
    """Return in what share of the conventions that use a colour it carries a function.

    Parameters
    ----------
    colour : Colour
        Insulation, base and stripe.
    function : str
        Function id.

    Returns
    -------
    float
        0 where no convention uses the colour so.
    """
    uses = _uses().get(colour, Counter[str]())
    total = sum(uses.values())
    return uses[function] / total if total else 0.0


@cache
def _uses() -> dict[Colour, Counter[str]]:
    """Count for each colour the conventions in which it carries a function, each once."""
    found: dict[Colour, Counter[str]] = {}
    for key in convention_keys():
        pairs = set()
        for entry in convention(key).colours:
            try:
                pairs.add((entry.colour, entry.function))
            except InvalidInput:
                continue  # a colour that reads in two ways suggests nothing
        for colour, function in pairs:
            found.setdefault(colour, Counter())[function] += 1
    return found
