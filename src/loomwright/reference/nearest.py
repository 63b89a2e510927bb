"""Names what a mistyped key may have meant."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches

MOST_LISTED = 12


def nearest_known(key: str, known: Sequence[str]) -> str:
    """Return the advice for a key that is not among `known`, as an instruction."""
    close = get_close_matches(key.lower(), known, n=3, cutoff=0.5)
    if close:
        return f"not known; did you mean {' or '.join(close)}?"
    if len(known) <= MOST_LISTED:
        return f"not known; give one of {', '.join(known)}"
    return f"not known; give one of {', '.join(known[:MOST_LISTED])} and {len(known)} in all"
