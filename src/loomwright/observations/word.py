"""The fixed vocabulary of what is seen, heard or felt; free words would mean too many things."""

from __future__ import annotations

from enum import StrEnum


class Word(StrEnum):
    """What is seen at one place."""

    OFF = "off"
    GLOW = "glow"
    DIM = "dim"
    NORMAL = "normal"
    BRIGHT = "bright"
    ON = "on"  # lit, and nothing said of how bright
    FLASHING = "flashing"
    FLASHING_DIM = "flashing dim"
    FLASHING_FAST = "flashing fast"
    FLICKER = "flicker"
    COMES_AND_GOES = "comes and goes"  # on another day, or when something is moved
    PULSED = "pulsed"
    WRONG = "wrong"  # something else lights, or in the wrong place
    WEAK = "weak"
    LOCKED = "locked"
    GRABBY = "grabby"  # of brakes: nothing, then all at once
    HOT = "hot"
    BURNT = "burnt"
    BLOWN = "blown"
    WHOLE = "whole"  # of a fuse: not blown
    CONNECTED = "connected"
    NO_TRAILER = "no trailer"
    OVERLOAD = "overload"
    FAULT = "fault"  # a message that says no more than that
    WORKS = "works"
    FAILS = "fails"
    AS_USUAL = "normal for this vehicle"
    NOT_SEEN = "not seen"  # looked for and could not be seen; says nothing


LIGHT = (
    Word.OFF,
    Word.GLOW,
    Word.DIM,
    Word.NORMAL,
    Word.BRIGHT,
    Word.ON,
    Word.FLASHING,
    Word.FLASHING_DIM,
    Word.FLASHING_FAST,
    Word.FLICKER,
    Word.COMES_AND_GOES,
    Word.PULSED,
    Word.WRONG,
)
"""What can be said of a light."""
