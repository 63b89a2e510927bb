"""Joints to choose from, each with its picture in words: what is seen in the hand."""

from __future__ import annotations

from loomwright.quantities import show_resistance
from loomwright.reference.joints import joint
from loomwright.web.describing.questions import Option

PICTURES = {
    "sealed-butt": "a sleeve crimped at both ends and shrunk tight, a bead of glue at each end",
    "butt": "a plain plastic sleeve with two dents; bare copper may show at its ends",
    "step-down-butt": "a shrunk sleeve, thick at one end and thin at the other",
    "solder-sleeve": "a clear sleeve with a ring of solder in the middle and a glue ring each side",
    "soldered": "two wires twisted together, bright with solder, under a sleeve",
    "wire-nut": "a plastic cap screwed over two twisted ends",
    "piercing-tap": "a hinged plastic clip over two wires, a blade through their insulation",
    "terminal-block": "a strip of screws, a wire under each",
    "stud-block": "a closed box with threaded posts, a ring and a nut on each",
    "plug-in": "two halves of a plug that lock with a click, a rubber seal between",
    "ring-terminal": "a ring under a bolt, the metal scraped bright",
    "ring-terminal-painted": "a ring under a bolt, paint or rust beneath it",
}
WIRE_TO_WIRE = (
    *("sealed-butt", "step-down-butt", "solder-sleeve", "butt", "soldered", "plug-in"),
    *("piercing-tap", "wire-nut"),
)
JUNCTIONS = ("stud-block", "terminal-block", *WIRE_TO_WIRE)
POSTS = ("ring-terminal", "ring-terminal-painted", "stud-block", "plug-in", "sealed-butt")


def joint_options(keys: tuple[str, ...]) -> tuple[Option, ...]:
    """Return joints to choose from: title, picture in words, what water and age do to it."""
    return tuple(_option(key) for key in keys)


def _option(key: str) -> Option:
    kind = joint(key)
    water = "keeps water out" if kind.wet_ok else "dry place only"
    aged = show_resistance(kind.aged_ohm)
    title = kind.title[:1].upper() + kind.title[1:]
    return Option(key, title, f"{PICTURES[key]}; {water}, {aged} when aged")
