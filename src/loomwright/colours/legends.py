"""Legends: what the letters of a colour code mean, by the manual or standard that uses them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from loomwright.colours.colour import Colour, canonical_colours
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.colours"
OWN = "loomwright"  # IEC 60757 letters, and our own codes where it has none
IEC = "iec-60757"

Vocabulary = Mapping[str, tuple[Colour, ...]]


@dataclass(frozen=True, slots=True)
class Legend:
    """A row of ``legends.csv``."""

    key: str
    description: str
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class Code:
    """A row of ``codes.csv``: what one legend means by one code."""

    legend: str
    code: str
    base: str
    stripe: str | None
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class Word:
    """A row of ``words.csv``: a colour word of one language (ISO 639-1)."""

    word: str
    colour: str
    language: str
    source: str
    standing: Standing


@cache
def legends() -> Mapping[str, str]:
    """Return every legend's key, and what it describes."""
    rows = read_rows(PACKAGE, "legends", Legend)
    return MappingProxyType({row.key: row.description for row in rows})


@cache
def words() -> Vocabulary:
    """Return the colours by folded word, in English, German, French and Spanish."""
    rows = read_rows(PACKAGE, "words", Word)
    return MappingProxyType({fold(row.word): (Colour(row.colour),) for row in rows})


@cache
def codes() -> Mapping[str, Vocabulary]:
    """Return, by legend, the colours by folded code; one legend may contradict itself."""
    meanings: dict[str, dict[str, tuple[Colour, ...]]] = {key: {} for key in legends()}
    for row in canonical_colours().values():
        for legend in {row.legend, OWN}:
            meanings[legend][fold(row.code)] = (Colour(row.name),)
    for code in read_rows(PACKAGE, "codes", Code):
        meaning = Colour(code.base, code.stripe)
        for spelling in _spellings(fold(code.code)):
            known = meanings[code.legend].get(spelling, ())
            meanings[code.legend][spelling] = (*known, meaning)
    return MappingProxyType({key: MappingProxyType(meant) for key, meant in meanings.items()})


@cache
def extended_codes(legend: str | None) -> Mapping[str, Vocabulary]:
    """Return `codes` as people mix them: what a legend leaves out may be in IEC 60757 letters.

    With a `legend`, its meanings replace those of every other.
    """
    chosen: Vocabulary = {} if legend is None else codes()[legend]
    extended = {key: {**codes()[IEC], **meant, **chosen} for key, meant in codes().items()}
    return MappingProxyType(extended)


def fold(text: str) -> str:
    """Return the text in lower case, without accents, with single spaces and plain dashes."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(sign for sign in apart if not unicodedata.combining(sign))
    return " ".join(re.sub("[\u2010-\u2015\u2212]", "-", plain).replace("_", " ").split())


def _spellings(code: str) -> set[str]:
    """Return LT GRN, LT-GRN and LTGRN for any of them; other codes are written in one way."""
    parts = re.split("[ -]", code)
    return {joint.join(parts) for joint in (" ", "-", "")}
