"""Patterns of lamps in words: what a person taps must not read alike."""

from __future__ import annotations

import numpy as np

from loomwright import examples, read_rig
from loomwright.observations.word import Word
from loomwright.trace.asking_told import patterns_in_words
from loomwright.trace.eye import BASIC

RIG = read_rig(examples.text(examples.DEMO))
NAMES = (
    "left rear tail",
    "left rear left stop turn",
    "right rear tail",
    "right rear right stop turn",
    "plate tail",
    "left front marker tail",
    "right front marker tail",
    "vehicle tail",
)
LETTERS = {"o": Word.OFF, "d": Word.DIM, "n": Word.NORMAL}


def told(*patterns: str, healthy: str = "nnnnnnnn") -> list[str]:
    """Each pattern in words, after the sound one; a letter for each light of `NAMES`."""
    rows = np.array([[BASIC.index(LETTERS[one]) for one in each] for each in (healthy, *patterns)])
    return patterns_in_words(rows, rows[0].tolist(), NAMES, RIG)


def test_a_few_lamps_are_named_and_a_whole_lamp_once() -> None:
    assert told("oonnnnnn", "onnnonnn", "ononondn") == [
        "every lamp as it should be",
        "left rear off",
        "left rear tail off, plate tail off",
        "left rear tail off, right rear tail off, plate tail off, right front marker tail dim",
    ]


def test_where_nearly_all_are_out_the_few_that_light_are_named() -> None:
    assert told("ononooon", "ooooooon", healthy="nnnnnnnn")[1:] == [
        "every lamp of the trailer off, but not left rear stop/turn and right rear stop/turn",
        "every lamp of the trailer off",
    ]
    assert told("odododdn")[1].endswith("left rear stop/turn dim, right rear tail off and 4 more")


def test_what_begins_alike_is_told_by_what_only_one_of_them_has() -> None:
    alike = told("odododdn", "odododnd")[1:]

    assert alike[0] != alike[1]
    assert "right front marker tail dim" in alike[0]
    assert "vehicle tail dim" in alike[1]
