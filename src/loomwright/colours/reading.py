"""Read a colour from a manual, a diagram or a person; refuse to guess."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from difflib import get_close_matches
from functools import lru_cache

from loomwright.colours.colour import Colour, Pattern
from loomwright.colours.legends import Vocabulary, codes, extended_codes, legends, words
from loomwright.colours.phrases import Phrase, read_phrase
from loomwright.invalid import InvalidInput

Found = dict[Colour, tuple[str, ...]]  # each meaning, and the legends that say so

RUNS_PATTERN_ON = "us-1982"  # BR/OD: brown with orange dots
SHADES = {
    ("light", "blue"): "light_blue",
    ("dark", "blue"): "dark_blue",
    ("light", "green"): "light_green",
    ("dark", "green"): "dark_green",
    ("dark", "brown"): "dark_brown",
}
SHADE = re.compile(r"(light|lite|lgt|lt|pale|dark|drk|dk)[ .-]*(\S.*)")
ASK = (
    "write the colour in words, such as green with violet stripe, "
    "or in IEC 60757 letters, such as GN/VT"
)


class AmbiguousColour(InvalidInput):
    """A code that means different colours in different legends.

    Attributes
    ----------
    candidates : tuple of (Colour, str)
        Each meaning, and the legends that say so, joined by commas.
    """

    candidates: tuple[tuple[Colour, str], ...]

    def __init__(
        self, field: str, value: object, candidates: tuple[tuple[Colour, str], ...]
    ) -> None:
        meanings = " or ".join(f"{colour.words} ({says})" for colour, says in candidates)
        fix = f"it can be {meanings}; name the legend, or write the colour in words"
        super().__init__(field, value, fix)
        self.candidates = candidates


def read_colour(text: str, *, legend: str | None = None, field: str = "colour") -> Colour:
    """Return the colour that a text means.

    Takes words in English, German, French and Spanish (``Light green/black``, ``dk blue with
    white stripe``), codes of every legend (``GN/VT``, ``BK-YE``, ``RDBU``, ``D-GN/WH``), and a
    wire size in front (``18 LB/YL``). The first colour is the base, the second the stripe.

    Parameters
    ----------
    text : str
        What stands in the manual.
    legend : str, optional
        Key of `legends`: whose codes they are. Only what it does not list is looked up in others.
    field : str
        Name of the field, for the error.

    Raises
    ------
    AmbiguousColour
        If legends differ on the meaning; names each, with its legends.
    InvalidInput
        If the text means no colour, or `legend` is not known.

    Notes
    -----
    A code that some legend lists whole is read whole: BR is brown, though British practice can
    write black with red so; give ``legend="uk-au7"`` there. IEC 60757 joins two colours in the
    order of its table, so RDBU does not tell base from stripe: look at the wire.

    References
    ----------
    iec-60757 for its letters; the other legends are listed, with sources, in ``codes.csv``.
    """
    if legend is not None and legend not in legends():
        raise InvalidInput("legend", legend, f"use one of {', '.join(legends())}")
    try:
        phrase = read_phrase(text)
    except ValueError as problem:
        raise InvalidInput(field, text, str(problem)) from None
    found = _meanings(phrase, legend)
    if not found:
        raise InvalidInput(field, text, _nearest_word(phrase.text))
    if len(found) > 1:
        by_support = sorted(found.items(), key=lambda meaning: -len(meaning[1]))
        candidates = tuple((colour, ", ".join(says)) for colour, says in by_support)
        raise AmbiguousColour(field, text, candidates)
    return next(iter(found))


@lru_cache(maxsize=1024)
def _meanings(phrase: Phrase, legend: str | None) -> Found:
    """Return every meaning in plain words, else in the legend given, else in all of them."""
    scopes: list[Mapping[str, Vocabulary]] = [{"words": {}}]
    scopes += [{legend: codes()[legend]}] if legend is not None else []
    scopes += [extended_codes(legend)]
    for scope in scopes:
        if found := _in_scope(phrase, scope):
            return found
    return {}


def _in_scope(phrase: Phrase, scope: Mapping[str, Vocabulary]) -> Found:
    for pattern, text in _pattern_readings(phrase, RUNS_PATTERN_ON in scope and len(scope) == 1):
        for found in (
            _gather((key, _whole(text, known)) for key, known in scope.items()),
            _gather((key, _separated(text, known)) for key, known in scope.items()),
            _mixed(text, scope),
            _gather((key, _run_together(text, known)) for key, known in scope.items()),
        ):
            laid = _laid(found, pattern)
            if laid:
                return laid
    return {}


def _pattern_readings(phrase: Phrase, may_run_on: bool) -> Iterator[tuple[Pattern | None, str]]:
    """Yield the text as it stands, then with its last letter read as the pattern."""
    yield phrase.pattern, phrase.text
    if phrase.pattern is None:
        joint = r"[ /-]*" if may_run_on else r"(?: ?[/-] ?| )"
        suffixed = re.fullmatch(rf"(.*[a-z]){joint}\(?([dh])\)?", phrase.text)
        if suffixed is not None:
            yield ("dots" if suffixed[2] == "d" else "hash"), suffixed[1]


def _laid(found: Found, pattern: Pattern | None) -> Found:
    """Return the meanings with their pattern; a pattern needs a second colour."""
    if pattern is None:
        return found
    return {replace(each, pattern=pattern): says for each, says in found.items() if each.stripe}


def _gather(readings: Iterable[tuple[str, Iterable[Colour]]]) -> Found:
    found: Found = {}
    for key, meanings in readings:
        for colour in meanings:
            found[colour] = tuple(dict.fromkeys((*found.get(colour, ()), key)))
    return found


def _whole(text: str, known: Vocabulary) -> tuple[Colour, ...]:
    """Return what one name or code means: a word, a code, or a shade of either."""
    name = text.strip(" .").replace(".", "")
    meant = words().get(name.replace("-", " ")) or known.get(name)
    if meant:
        return meant
    shaded = SHADE.fullmatch(name)
    if shaded is None:
        return ()
    shade = "light" if shaded[1][0] in "lp" else "dark"
    plain = words().get(shaded[2]) or known.get(shaded[2], ())
    shades = (SHADES.get((shade, colour.base)) for colour in plain if colour.stripe is None)
    return tuple(Colour(shaded_name) for shaded_name in shades if shaded_name)


def _separated(text: str, known: Vocabulary) -> tuple[Colour, ...]:
    pairs = _cuts(text)
    return _striped((_whole(base, known), _whole(stripe, known)) for base, stripe in pairs)


def _mixed(text: str, scope: Mapping[str, Vocabulary]) -> Found:
    """Return the meanings when base and stripe are written in two different ways."""
    found: Found = {}
    for base_text, stripe_text in _cuts(text):
        bases = _gather((key, _whole(base_text, known)) for key, known in scope.items())
        stripes = _gather((key, _whole(stripe_text, known)) for key, known in scope.items())
        for base, base_says in bases.items():
            for stripe, stripe_says in stripes.items():
                for colour in _striped([((base,), (stripe,))]):
                    found[colour] = tuple(dict.fromkeys((*base_says, *stripe_says)))
    return found


def _run_together(text: str, known: Vocabulary) -> tuple[Colour, ...]:
    if not text.isalpha():
        return ()
    cuts = [(text[:place], text[place:]) for place in range(1, len(text))]
    return _striped(
        (vocabulary.get(base, ()), vocabulary.get(stripe, ()))
        for base, stripe in cuts
        for vocabulary in (known, words())
    )


def _striped(
    pairs: Iterable[tuple[tuple[Colour, ...], tuple[Colour, ...]]],
) -> tuple[Colour, ...]:
    return tuple(
        Colour(base.base, stripe.base)
        for bases, stripes in pairs
        for base in bases
        for stripe in stripes
        if base.stripe is None and stripe.stripe is None
    )


def _cuts(text: str) -> list[tuple[str, str]]:
    """Return base and stripe: cut at the one slash, else at any dash, else at any space."""
    for separators in ("/|+,&", "-", " "):
        places = [place for place, sign in enumerate(text) if sign in separators]
        if separators[0] == "/" and len(places) > 1:
            return []
        if places:
            return [(text[:place].strip(), text[place + 1 :].strip()) for place in places]
    return []


def _nearest_word(text: str) -> str:
    if "*" in text:
        return "an asterisk is the maker's usual tracer: read its colour off the wire and write it"
    for part in re.split("[ /|+,&-]", text):
        near = get_close_matches(part, words(), n=1, cutoff=0.75) if len(part) > 3 else []
        if near and near[0] != part:
            return f"did you mean {near[0]}? {ASK}"
    return ASK
