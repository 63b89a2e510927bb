"""The phrase round a colour: a wire size in front, a stripe, tracer, dots or hash marks after."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache, lru_cache

from loomwright.colours.colour import Pattern
from loomwright.colours.legends import fold
from loomwright.quantities import WireSystem, wire_sizes

SIZE_IN_FRONT = re.compile(
    r"#? ?(?P<size>[1-4]/0|\d{1,3}(?:[.,]\d{1,2})?) ?"
    r"(?:(?:awg|sae|gauge|gage|ga|mm2|mm\^2|sq mm|qmm)(?![a-z]))?[ .,:-]*(?=[a-z])"
)
LARGEST_MM2 = 120
SYSTEMS: tuple[WireSystem, ...] = ("awg", "sae", "mm2")
LAID: dict[Pattern, str] = {
    "stripe": "stripes?|tracers?|trace|lines?",
    "dots": "dots?|spots?",
    "hash": "hash(?:es)?(?:[ -]?marks?)?",
}
WITH = re.compile(r" (?:(?:with|and|mit|und|avec|et|con|y) |w/ ?|& ?)(?:an? )?")


@dataclass(frozen=True, slots=True)
class Phrase:
    """Colours in folded text, base first and ``/`` between; the pattern if it was said."""

    text: str
    pattern: Pattern | None


@lru_cache(maxsize=1024)
def read_phrase(text: str) -> Phrase:
    """Take off the wire size, and turn ``X with Y stripe`` and ``Y stripe on X`` into ``X/Y``.

    Raises
    ------
    ValueError
        If a number stands in front that is no wire size. The message says what to write.
    """
    plain = _without_size(fold(text))
    for pattern, laid in LAID.items():
        turned = re.fullmatch(rf"(?:an? )?(.+) (?:{laid}) on (?:an? )?(.+)", plain)
        if turned is not None:
            return Phrase(f"{turned[2]}/{turned[1]}", pattern)
        ended = re.fullmatch(rf"(.+?)[ -](?:{laid})\.?", plain)
        if ended is not None:
            return Phrase(_with_as_slash(ended[1]), pattern)
    return Phrase(_with_as_slash(plain), None)


def _with_as_slash(plain: str) -> str:
    return WITH.sub("/", plain).replace(" / ", "/")


def _without_size(plain: str) -> str:
    found = SIZE_IN_FRONT.match(plain)
    if found is None:
        return plain
    if not _can_be_size(found["size"].replace(",", ".")):
        raise ValueError("write the colour alone, or with a wire size that is made in front of it")
    return plain[found.end() :]


def _can_be_size(size: str) -> bool:
    """Tell a gauge or an area from a circuit number; makers have areas of their own, as 0.85."""
    if "." in size:
        return 0 < float(size) <= LARGEST_MM2
    return size in _known_sizes()


@cache
def _known_sizes() -> frozenset[str]:
    return frozenset(wire.size for system in SYSTEMS for wire in wire_sizes(system))
