"""Where every key and value of a TOML text stands, which its parser does not tell."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from loomwright.rig.places import Place

TOKEN = re.compile(
    r"""
      (?P<text>\"{3}(?:\\.|[^\\])*?\"{3,5} | '{3}.*?'{3,5} | "(?:\\.|[^"\\\n])*" | '[^'\n]*')
    | (?P<comment>\#[^\n]*)
    | (?P<newline>\n)
    | (?P<space>[\ \t\r]+)
    | (?P<sign>[\[\]{}=,.])
    | (?P<word>[^\s\[\]{}=,.\#"']+)
    """,
    re.VERBOSE | re.DOTALL,
)
MOST_KEPT = 16
"""Texts whose places are kept: those that are being changed, value by value."""

SKIPPED = frozenset({"comment", "space"})
ESCAPE = re.compile(r'\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|(["\\bfnrte]))')
ESCAPED = {'"': '"', "\\": "\\", "b": "\b", "f": "\f", "n": "\n", "r": "\r", "t": "\t", "e": "\x1b"}


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the text that counts, its line, and the count of letters before it."""

    kind: str
    text: str
    line: int
    start: int

    @property
    def end(self) -> int:
        """Count of letters before what follows it."""
        return self.start + len(self.text)


class Standing(NamedTuple):
    """Where the keys of a text stand, its plain values, and the last entry of each table.

    Attributes
    ----------
    lines : mapping of Place to int
        The line of each place, counted from 1.
    spans : mapping of Place to (int, int)
        Letters before each value that is no list or table, and before what follows it.
    under_header, inline : mapping of Place to int
        Letters up to the end of the last entry of each table: of one with a header, or of its
        header if it has none; of one in braces that is not empty.
    """

    lines: Mapping[Place, int]
    spans: Mapping[Place, tuple[int, int]]
    under_header: Mapping[Place, int]
    inline: Mapping[Place, int]


def key_lines(toml: str) -> Mapping[Place, int]:
    """Return the line, counted from 1, of each table, key and list entry of a sound TOML text.

    List entries are steps counted from 0, as in the parsed text.
    """
    return standing(toml).lines


def value_spans(toml: str) -> Mapping[Place, tuple[int, int]]:
    """Return where in a sound TOML text each value begins and ends that is no list or table."""
    return standing(toml).spans


@lru_cache(maxsize=MOST_KEPT)
def standing(toml: str) -> Standing:
    """Return where all that a sound TOML text says stands."""
    walk = _Walk(_tokens(toml))
    walk.document()
    return Standing(walk.lines, walk.spans, walk.under_header, walk.inline)


def _tokens(toml: str) -> list[Token]:
    tokens: list[Token] = []
    line = 1
    for found in TOKEN.finditer(toml):
        kind = found.lastgroup
        if kind is not None and kind not in SKIPPED:
            tokens.append(Token(kind, found[0], line, found.start()))
        line += found[0].count("\n")
    return [*tokens, Token("newline", "\n", line, len(toml))]


def _key(token: Token) -> str:
    if token.kind != "text":
        return token.text
    if token.text.startswith("'"):
        return token.text[1:-1]
    return ESCAPE.sub(_unescape, token.text[1:-1])


def _unescape(found: re.Match[str]) -> str:
    code = found[1] or found[2]
    return chr(int(code, 16)) if code else ESCAPED[found[3]]


@dataclass(slots=True)
class _Walk:
    """One walk over the tokens, noting where each place stands, and each plain value."""

    tokens: list[Token]
    at: int = 0
    lines: dict[Place, int] = field(default_factory=dict)
    counts: dict[Place, int] = field(default_factory=dict)
    spans: dict[Place, tuple[int, int]] = field(default_factory=dict)
    under_header: dict[Place, int] = field(default_factory=dict)
    inline: dict[Place, int] = field(default_factory=dict)

    def document(self) -> None:
        table: Place = ()
        while self.at < len(self.tokens):
            token = self.tokens[self.at]
            if token.kind == "newline":
                self.at += 1
            elif token.text == "[" and token.kind == "sign":
                table = self._header()
                self.under_header[table] = self._behind
            else:
                self._pair(table)
                self.under_header[table] = self._behind

    def _header(self) -> Place:
        line = self._here.line
        self.at += 1
        is_list = self._is_sign("[")
        self.at += is_list
        keys = self._keys()
        self.at += 2 if is_list else 1
        place = self._resolved(keys[:-1])
        place = (*place, keys[-1])
        if is_list:
            number = self.counts.get(place, 0)
            self.counts[place] = number + 1
            self.lines.setdefault(place, line)
            place = (*place, number)
        else:
            place = self._resolved(keys)
        for end in range(1, len(place) + 1):
            self.lines.setdefault(place[:end], line)
        return place

    def _resolved(self, keys: list[str]) -> Place:
        """Return the place a header's keys mean: within a list, its newest entry."""
        place: Place = ()
        for key in keys:
            place = (*place, key)
            if place in self.counts:
                place = (*place, self.counts[place] - 1)
        return place

    def _pair(self, table: Place) -> None:
        line = self._here.line
        place = table
        for key in self._keys():
            place = (*place, key)
            self.lines.setdefault(place, line)
        self.at += 1  # the equals sign
        self._value(place)

    def _value(self, place: Place) -> None:
        if self._is_sign("["):
            self._list(place)
        elif self._is_sign("{"):
            self._inline_table(place)
        else:
            start = self._here.start
            while not self._ends_value:
                self.at += 1
            self.spans[place] = start, self._behind

    def _list(self, place: Place) -> None:
        self.at += 1
        number = 0
        while not self._is_sign("]"):
            if self._here.kind == "newline" or self._is_sign(","):
                self.at += 1
                continue
            entry: Place = (*place, number)
            self.lines.setdefault(entry, self._here.line)
            self._value(entry)
            number += 1
        self.at += 1

    def _inline_table(self, place: Place) -> None:
        self.at += 1
        while not self._is_sign("}"):
            if self._here.kind == "newline" or self._is_sign(","):
                self.at += 1
            else:
                self._pair(place)
                self.inline[place] = self._behind
        self.at += 1

    def _keys(self) -> list[str]:
        keys = [_key(self._here)]
        self.at += 1
        while self._is_sign("."):
            keys.append(_key(self.tokens[self.at + 1]))
            self.at += 2
        return keys

    @property
    def _here(self) -> Token:
        return self.tokens[self.at]

    @property
    def _behind(self) -> int:
        """Count of letters up to the end of the token before."""
        return self.tokens[self.at - 1].end

    def _is_sign(self, sign: str) -> bool:
        return self._here.kind == "sign" and self._here.text == sign

    @property
    def _ends_value(self) -> bool:
        here = self._here
        return here.kind == "newline" or (here.kind == "sign" and here.text in ",]}")
