"""What may be changed on a rig, on a terminal."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from loomwright.changes.change import Edit
from loomwright.changes.changeable import Changeable
from loomwright.cli.paint import Page


def show_changeable(name: str, known: Sequence[Changeable]) -> None:
    """Print what may be changed, station by station: the path, what it is, what it is now."""
    page = Page()
    page.head(name)
    page.line("What may be changed, along the run from the battery:")
    for station, group in groupby(known, key=lambda each: each.station):
        page.line()
        page.line(station, "head")
        for each in group:
            page.ends(f"{each.words[:1].upper()}{each.words[1:]}", each.now or "as usual", indent=2)
            page.line(each.path, indent=4)
    page.line()
    page.line('Try one: loomwright what-if FILE "PATH=VALUE".', "quiet")


def changes_in_words(known: Sequence[Changeable], edits: Sequence[Edit]) -> str:
    """Return a trial in words: what, what it is now, what it would be."""
    by_path = {each.path: each for each in known}
    return "; ".join(_in_words(by_path[each.path], str(each.value)) for each in edits)


def _in_words(what: Changeable, value: str) -> str:
    then = next((each.words for each in what.options if each.value == value), value)
    return f"{what.words[:1].upper()}{what.words[1:]}: {then} instead of {what.now or 'the usual'}"
