"""What is asked about a rig: a question for each value of the job file, in plain words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

Kind = Literal[
    "choice",
    "text",
    "notes",
    "list",
    "several",
    "joined",
    "lines",
    "flag",
    "number",
    "table",
    "placing",
    "length",
    "diameter",
    "current",
    "voltage",
    "resistance",
    "power",
    "mass",
    "capacity",
    "share",
    "size",
    "fuse",
    "colour",
    "lamp",
    "lamps",
    "date",
    "vin",
    "connector",
]
"""How an answer is given. `table`: whether a table is there at all; `placing`: side or sides;
`several`: any of the options; `joined`: any of them, kept as one group in a list of groups."""

TICKED = frozenset({"several", "joined"})
"""Answered by ticking any of the options."""

TAPPED = frozenset({"choice", "flag", "table", "placing"})
"""Answered by a tap; all others are typed, and checked while they are typed."""

NO_LETTERS = re.compile(r"[^A-Za-z0-9]+")


@dataclass(frozen=True, slots=True)
class Option:
    """One of the answers to choose from: what is written, its title, and words to judge it by."""

    value: str
    title: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class Question:
    """A question about one value of the job file.

    Parameters
    ----------
    path : str
        Where the answer stands, such as ``trailer.lamp[2].back``.
    label : str
        The question, short.
    kind : Kind
        How it is answered.
    hint : str
        What helps to answer it.
    options : tuple of Option
        What to choose from; for a typed answer, what can be tapped instead.
    whole : str
        Path of the table that goes when the answer is emptied; "" for the value alone.
    """

    path: str
    label: str
    kind: Kind = "text"
    hint: str = ""
    options: tuple[Option, ...] = ()
    whole: str = ""

    @property
    def mark(self) -> str:
        """Name of its place on a page: letters, digits and hyphens."""
        return NO_LETTERS.sub("-", self.path).strip("-")

    @property
    def is_ticked(self) -> bool:
        """Whether any of the options may hold."""
        return self.kind in TICKED

    @property
    def is_tapped(self) -> bool:
        """Whether it is answered by a tap."""
        return self.kind in TAPPED


@dataclass(frozen=True, slots=True)
class Section:
    """Questions that belong together; `is_folded` ones are opened by those who need them."""

    title: str
    questions: tuple[Question, ...]
    says: str = ""
    is_folded: bool = False
    removes: str = ""
    """Path of the entry that can be moved and taken out here; "" for none."""
    number: int = 0
    """Which entry of its list that is, counted from 1."""
    count: int = 0
    """How many entries the list has."""


def choose(path: str, label: str, *options: Option, hint: str = "") -> Question:
    """Return a question answered by one of a few."""
    return Question(path, label, "choice", hint, options)


def tick(path: str, label: str, *options: Option, hint: str = "") -> Question:
    """Return a question answered by ticking any of a few."""
    return Question(path, label, "several", hint, options)


def flag(path: str, label: str, yes: str = "Yes", no: str = "No", hint: str = "") -> Question:
    """Return a question answered by yes or no."""
    return Question(path, label, "flag", hint, (Option("yes", yes), Option("no", no)))
