"""What people say of lamps, weather and other vehicles, and the word or place each means."""

from __future__ import annotations

from typing import Final

from loomwright.observations.word import Word

WORDS: Final[tuple[tuple[str, Word], ...]] = (
    ("very dim", Word.GLOW),
    ("practically out", Word.GLOW),
    ("flashing dimly", Word.FLASHING_DIM),
    ("flashes dimly", Word.FLASHING_DIM),
    ("flashing dim", Word.FLASHING_DIM),
    ("flashes dim", Word.FLASHING_DIM),
    ("flashing faintly", Word.FLASHING_DIM),
    ("flashing fast", Word.FLASHING_FAST),
    ("flashes fast", Word.FLASHING_FAST),
    ("comes and goes", Word.COMES_AND_GOES),
    ("come and go", Word.COMES_AND_GOES),
    ("now and then", Word.COMES_AND_GOES),
    ("intermittent", Word.COMES_AND_GOES),
    ("normal for this vehicle", Word.AS_USUAL),
    ("no trailer", Word.NO_TRAILER),
    ("not connected", Word.NO_TRAILER),
    ("not seen", Word.NOT_SEEN),
    ("does not work", Word.FAILS),
    ("do not work", Word.FAILS),
    ("not working", Word.OFF),
    ("as it should be", Word.NORMAL),
    ("as they should be", Word.NORMAL),
    ("overload", Word.OVERLOAD),
    ("short circuit", Word.OVERLOAD),
    ("connected", Word.CONNECTED),
    ("flashing", Word.FLASHING),
    ("flashes", Word.FLASHING),
    ("flash", Word.FLASHING),
    ("blinking", Word.FLASHING),
    ("blinks", Word.FLASHING),
    ("flickers", Word.FLICKER),
    ("flicker", Word.FLICKER),
    ("flickering", Word.FLICKER),
    ("pulsed", Word.PULSED),
    ("pulsing", Word.PULSED),
    ("dark", Word.OFF),
    ("dead", Word.OFF),
    ("out", Word.OFF),
    ("off", Word.OFF),
    ("nothing", Word.OFF),
    ("glows", Word.GLOW),
    ("glow", Word.GLOW),
    ("glowing", Word.GLOW),
    ("faint", Word.GLOW),
    ("dim", Word.DIM),
    ("weak", Word.WEAK),
    ("normal", Word.NORMAL),
    ("good", Word.NORMAL),
    ("fine", Word.NORMAL),
    ("ok", Word.NORMAL),
    ("okay", Word.NORMAL),
    ("right word", Word.NORMAL),
    ("bright", Word.BRIGHT),
    ("on", Word.ON),
    ("lit", Word.ON),
    ("steady", Word.ON),
    ("wrong", Word.WRONG),
    ("locked", Word.LOCKED),
    ("lock", Word.LOCKED),
    ("drag", Word.LOCKED),
    ("grabby", Word.GRABBY),
    ("grab", Word.GRABBY),
    ("hot", Word.HOT),
    ("burnt", Word.BURNT),
    ("blown", Word.BLOWN),
    ("blows", Word.BLOWN),
    ("whole", Word.WHOLE),
    ("fault", Word.FAULT),
    ("error", Word.FAULT),
    ("works", Word.WORKS),
    ("work", Word.WORKS),
    ("fails", Word.FAILS),
)
"""What people say, longer sayings first; none means two things."""

PAST: Final = (
    ("rain", "rain"),
    ("wet", "rain"),
    ("bump", "bumps"),
    ("rough road", "bumps"),
    ("added lately", "added lately"),
    ("fitted lately", "added lately"),
    ("never worked", "never worked"),
    ("after a repair", "after a repair"),
    ("long unused", "long unused"),
    ("stood all winter", "long unused"),
    ("no trailer on", "no trailer"),
    ("without a trailer", "no trailer"),
)
"""Sayings of weather, movement and the past, and the history each tells of."""

ELSEWHERE: Final = (
    ("another vehicle", "other vehicle"),
    ("other vehicle", "other vehicle"),
    ("another truck", "other vehicle"),
    ("bench supply", "bench supply"),
    ("another trailer", "other trailer"),
    ("other trailer", "other trailer"),
    ("load box", "load box"),
)

MOVED: Final = (
    ("plug", "plug and cord"),
    ("cord", "plug and cord"),
    ("cable", "plug and cord"),
    ("junction box", "junction box"),
    ("bumper", "wires behind the bumper"),
    ("axle", "wires at the axles"),
    ("frame", "wires along the frame"),
    ("lamp", "lamp and its wires"),
)
"""Sayings of what is moved by hand while somebody watches, and what moves with it."""

STEADY: Final = ("nothing changes", "no change", "steady", "stays the same")
CHANGED: Final = ("changes", "flickers", "flicker", "comes and goes", "go out", "goes out")
"""Sayings that nothing changes then, and that something does."""
