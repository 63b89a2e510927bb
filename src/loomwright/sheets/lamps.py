"""What each lamp should show under each command: glow, word, voltage and share of light."""

from __future__ import annotations

from functools import cache

from loomwright.checks.rule import Work
from loomwright.drawing.function_words import function_words
from loomwright.drawing.lamps import glow_disc
from loomwright.drawing.svg import document
from loomwright.electrics.answers import LoadAnswer
from loomwright.quantities import show_share, show_voltage
from loomwright.rig.model import Rig
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import capital, command_title

BOX_MM = 6.4
SHORT = {
    "rest": "All off",
    "park": "Park",
    "left": "Left",
    "right": "Right",
    "brake_pedal": "Pedal",
    "hazard": "Hazard",
    "reverse": "Reverse",
    "fog": "Fog",
    "brake_lever": "Lever",
    "park+left": "Park + left",
    "park+brake_pedal": "Park + pedal",
    "charge": "Engine",
    "all": "All on",
}
NOT_LAMPS = ("rest", "charge", "hazard", "brake_lever")
"""Commands that tell nothing new about lamps: all off, left with right, the pedal by hand."""

MOST_COLUMNS = 8
LEAST_TELLING = "park+left"


def lamps(work: Work) -> Content:
    """Return the table of lamps by commands."""
    keys = [key for key in work.answers.commands if key not in NOT_LAMPS and _lights(work, key)]
    if len(keys) > MOST_COLUMNS and LEAST_TELLING in keys:
        keys.remove(LEAST_TELLING)
    first = work.answers.at(keys[0]) if keys else None
    shown = [load for load in first.loads if load.kind == "lamp"] if first else []
    return {
        "commands": [SHORT.get(key, command_title(key)) for key in keys],
        "rows": [
            {
                "name": _housing(work.rig, load.name),
                "function": function_words(load.function),
                "cells": [_cell(work.rig, work.answers.at(key).load(load.name)) for key in keys],
            }
            for load in shown
        ],
    }


def _lights(work: Work, key: str) -> bool:
    return any(load.kind == "lamp" and load.commanded for load in work.answers.at(key).loads)


def _housing(rig: Rig, name: str) -> str:
    """Return the name of the housing a light belongs to."""
    found = [lamp.name for lamp in rig.trailer.lamps if name.startswith(lamp.name)]
    return capital(max(found, key=len, default=name))


def _cell(rig: Rig, load: LoadAnswer) -> dict[str, object]:
    share = load.light_share or 0.0
    is_off = load.word == "off" and not load.commanded
    return {
        "svg": _glow(round(share, 2), _colour_of(rig, load.name)),
        "alt": f"{load.word}, {show_share(share)} of rated light",
        "word": load.word,
        "volts": "" if is_off else show_voltage(load.voltage_v),
        "share": "" if is_off else show_share(share),
        "is_off": is_off,
        "is_wrong": load.commanded != (load.word in ("normal", "bright")),
    }


def _colour_of(rig: Rig, name: str) -> str:
    found = [lamp for lamp in rig.trailer.lamps if name.startswith(lamp.name)]
    return max(found, key=lambda lamp: len(lamp.name)).colour if found else "white"


@cache
def _glow(share: float, colour: str) -> str:
    middle = BOX_MM / 2
    drawn = glow_disc(middle, middle, share, colour)
    return document(BOX_MM, BOX_MM, drawn, title="lamp", says=f"{share:.0%} of rated light")
