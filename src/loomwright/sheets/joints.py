"""Which conductor joins which: the splices, and the plug."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Work
from loomwright.hookup.model import End, Pair, SpliceChoice, Standing
from loomwright.quantities import Units
from loomwright.reference.joints import joint
from loomwright.rig.model import Rig
from loomwright.sheets.facts import is_rewire
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import (
    NO_BREAK,
    capital,
    function_title,
    short_length,
    size_words,
    swatch,
    tube_words,
)

OPEN = (
    Standing.NO_FEED,
    Standing.NO_PARTNER,
    Standing.NEEDS_CONVERTER,
    Standing.LOST_IN_ADAPTER,
)
OPEN_WORDS = {
    Standing.NO_FEED: "No feed",
    Standing.NO_PARTNER: "Cap and seal",
    Standing.NEEDS_CONVERTER: "Converter",
    Standing.LOST_IN_ADAPTER: "Lost in the adapter",
}
PLUG_OPEN_WORDS = {**OPEN_WORDS, Standing.NO_PARTNER: "Not taken"}
ACROSS = {"ground": 0, "tail": 1}


def joints(work: Work) -> Content:
    """Return the tables of joints and the mating of the plug."""
    rig, hookup = work.rig, work.hookup
    plug = [pair for pair in hookup.pairs if pair.stage != "splice"]
    adapted = any(pair.stage == "adapter" for pair in plug)
    return {
        "splices": [*_splice_tables(work)],
        "trailer": [*_trailer_joints(rig)] if is_rewire(rig) else [],
        "plug_title": "Plug in socket, through the adapter" if adapted else "Plug in socket",
        "plug_left": f"Socket “{rig.towing}”",
        "plug_right": "Trailer cord",
        "plug": [_row(pair, rig.units) for pair in plug],
        "found": [
            {"pin": wire.pin, "function": function_title(wire.function)}
            for wire in rig.towing_socket.lead
        ],
        "needs": [need.says for need in hookup.needs],
    }


def _splice_tables(work: Work) -> Iterator[dict[str, object]]:
    pairs = work.hookup.at("splice")
    for name in dict.fromkeys(pair.socket for pair in pairs):
        mine = [pair for pair in pairs if pair.socket == name]
        inputs = name == "converter"
        yield {
            "title": "Inputs of the converter" if inputs else f"Socket “{name}”",
            "left": _side_title(mine, "vehicle"),
            "right": "Converter input" if inputs else "Lead of the socket",
            "rows": [_row(pair, work.rig.units) for pair in mine],
        }


def _side_title(pairs: list[Pair], fallback: str) -> str:
    places = dict.fromkeys(
        pair.vehicle_side.of
        for pair in pairs
        if pair.vehicle_side is not None and pair.vehicle_side.of not in ("frame", "vehicle")
    )
    others = [place for place in places if place != "converter"]
    if others:
        return f"Vehicle, at “{others[0]}”"
    if not places:
        return capital(fallback)
    sides = {pair.vehicle_side.of for pair in pairs if pair.vehicle_side is not None}
    return "Vehicle or converter" if "vehicle" in sides else "Converter output"


def _row(pair: Pair, units: Units) -> dict[str, object]:
    words = OPEN_WORDS if pair.stage == "splice" else PLUG_OPEN_WORDS
    end = pair.trailer_side or pair.vehicle_side
    ends = (
        (pair.trailer_side,) if pair.stage == "adapter" else (pair.trailer_side, pair.vehicle_side)
    )
    pin = next((each.pin for each in ends if each and each.pin), None)
    return {
        "pin": pin or "",
        "function": function_title(end.function if end is not None else pair.function),
        "left": _end(pair.vehicle_side, pair),
        "right": _end(pair.trailer_side, pair),
        "joint": _joint(pair.splice, pair, units),
        "is_trap": pair.standing is Standing.TRAP,
        "is_crossed": _is_crossed(pair),
        "is_open": pair.standing in OPEN,
        "word": words.get(pair.standing, ""),
        "says": capital(pair.says),
        "do": capital(pair.do),
        "meanings": [f"{capital(meaning)}." for meaning in pair.meanings],
    }


def _is_crossed(pair: Pair) -> bool:
    """Whether the two sides of a joint carry different functions: worse than a colour."""
    left, right = pair.vehicle_side, pair.trailer_side
    return left is not None and right is not None and left.function != right.function


def _end(end: End | None, pair: Pair) -> dict[str, object] | None:
    if end is None:
        return None
    of_box = end.of in ("converter", "frame")
    place = end.place if end.of in ("vehicle", "frame") else ""
    detail = [part for part in (size_words(end.size), _pin(end, pair), place) if part]
    bare = of_box and end.colour is None
    return {
        "swatch": None if bare else swatch(end.colour),
        "bare": _bare_words(end) if bare else "",
        "detail": detail,
    }


def _bare_words(end: End) -> str:
    if end.of == "frame":
        return "Bare frame, ring terminal"
    return f"Terminal “{function_title(end.function).lower()}”"


def _pin(end: End, pair: Pair) -> str:
    if end.pin is None or pair.stage == "splice":
        return ""
    return f"pin{NO_BREAK}{end.pin}"


def _joint(splice: SpliceChoice | None, pair: Pair, units: Units) -> dict[str, object]:
    if pair.vehicle_side is not None and pair.vehicle_side.of == "frame":
        return {"title": "Ring terminal on bare metal", "detail": [], "fits": True, "note": ""}
    if splice is None:
        return {"title": "", "detail": [], "fits": True, "note": ""}
    kind = joint(splice.kind)
    strip = "" if splice.strip_mm is None else f"strip {short_length(splice.strip_mm, units)}"
    detail = [part for part in (splice.barrel, strip, tube_words(splice.shrink, units)) if part]
    dry = "" if kind.wet_ok else "dry place only"
    return {
        "title": capital(kind.title),
        "detail": [*detail, *([dry] if dry else [])],
        "fits": splice.fits,
        "note": "" if splice.fits else capital(splice.note),
    }


def _trailer_joints(rig: Rig) -> Iterator[dict[str, object]]:
    """The joints of a renewed trailer: each core at the junction, then each lamp and brake."""
    trailer = rig.trailer
    for wire in trailer.cord:
        run = trailer.run.get(wire.function)
        yield {
            "where": "Junction",
            "function": function_title(wire.function),
            "swatch": swatch(wire.wire.colour),
            "sizes": f"{size_words(wire.wire.size)} to {size_words(run)}",
            "joint": capital(joint(trailer.junction).title),
        }
    for lamp in trailer.lamps:
        functions = dict.fromkeys(light.function for light in lamp.lights)
        yield {
            "where": capital(lamp.name),
            "function": ", ".join(function_title(each) for each in (*functions, "ground")),
            "swatch": None,
            "sizes": f"{size_words(lamp.branch.size)}, ground {size_words(lamp.ground.size)}",
            "joint": capital(joint(lamp.joint).title),
        }
