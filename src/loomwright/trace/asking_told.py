"""Patterns of lamps in words: an answer to a look, told so that no two of them read alike."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final

import numpy as np

from loomwright.observations.word import Word
from loomwright.rig.model import Rig
from loomwright.trace.eye import BASIC
from loomwright.trace.form_words import spoken_name

ALL_RIGHT: Final = "every lamp as it should be"
MOST_NAMED: Final = 3
OFF: Final = BASIC.index(Word.OFF)


def patterns_in_words(
    rows: np.ndarray, healthy: Sequence[int], names: Sequence[str], rig: Rig
) -> list[str]:
    """Return each pattern in words: the lamps that are wrong, or the few that are still right.

    Parameters
    ----------
    rows : int array, shape (pattern, light)
        Number of each light's word in `BASIC`.
    healthy : sequence of int
        The same of a sound rig.
    names : sequence of str
        What the lights are called.
    rig : Rig
        Says which lights are in one lamp.
    """
    lamps = [_lamp_of(name, rig) for name in names]
    wrong = [_wrong(row, healthy, names, lamps) for row in rows]
    common = Counter(one for each in wrong for one in each)
    heads = Counter(tuple(each[:MOST_NAMED]) for each in wrong)
    told = []
    for row, each in zip(rows, wrong, strict=True):
        if len(each) <= MOST_NAMED + 1:
            told.append(", ".join(each) or ALL_RIGHT)
            continue
        is_alike = heads[tuple(each[:MOST_NAMED])] > 1
        first = sorted(each, key=lambda one: common[one])[:MOST_NAMED] if is_alike else each
        shown = f"{', '.join(first[:MOST_NAMED])} and {len(each) - MOST_NAMED} more"
        told.append(_all_but(row, healthy, names, lamps, rig) or shown)
    return told


def _wrong(
    row: Sequence[int], healthy: Sequence[int], names: Sequence[str], lamps: Sequence[str]
) -> list[str]:
    """Name the lamps that are not as they should be, as one lamp where all its lights agree."""
    wrong = [w != right for w, right in zip(row, healthy, strict=True)]
    told: dict[str, int] = {}
    for name, lamp, word, is_wrong in zip(names, lamps, row, wrong, strict=True):
        if is_wrong:
            mine = [n for n, each in enumerate(lamps) if each == lamp]
            is_whole = len(mine) > 1 and all(wrong[n] and row[n] == word for n in mine)
            told[lamp if is_whole else spoken_name(name)] = word
    return [f"{name} {BASIC[word]}" for name, word in told.items()]


def _all_but(
    row: Sequence[int],
    healthy: Sequence[int],
    names: Sequence[str],
    lamps: Sequence[str],
    rig: Rig,
) -> str:
    """Tell by the lamps of the trailer that are still right; "" where more than a few are."""
    trailers = {lamp.name for lamp in rig.trailer.lamps}
    wrong = [n for n in range(len(names)) if row[n] != healthy[n]]
    words = {int(row[n]) for n in wrong}
    if len(words) != 1 or any(healthy[n] == OFF or lamps[n] not in trailers for n in wrong):
        return ""
    right = [
        n
        for n, lamp in enumerate(lamps)
        if lamp in trailers and n not in wrong and healthy[n] != OFF
    ]
    dark = {lamps[n] for n in wrong}
    but = dict.fromkeys(spoken_name(names[n]) if lamps[n] in dark else lamps[n] for n in right)
    if len(but) > MOST_NAMED:
        return ""
    every = f"every lamp of the trailer {BASIC[words.pop()]}"
    return f"{every}, but not {_listed([*but])}" if but else every


def _listed(items: Sequence[str]) -> str:
    return " and ".join(part for part in (", ".join(items[:-1]), *items[-1:]) if part)


def _lamp_of(light: str, rig: Rig) -> str:
    """Return the lamp a light is in: the longest name that it begins with."""
    names = [lamp.name for lamp in rig.trailer.lamps]
    mine = [name for name in names if light == name or light.startswith(f"{name} ")]
    return max(mine, key=len, default=light)
