"""Which pin, socket, lamp or fuse of a rig a person names."""

from __future__ import annotations

import re

from loomwright.electrics.wiring import Wiring
from loomwright.invalid import InvalidInput
from loomwright.observations.place import Place, PlaceKind
from loomwright.trace.homes import circuit_of
from loomwright.trace.whereabouts import meant_by


def bare(text: str) -> str:
    """Return a saying without the small words around the name."""
    words = text.strip().split()
    while words and words[-1] in ("is", "are", "stays", "stay", "goes", "reads", "at", "shows"):
        words.pop()
    while words and words[0] in ("the", "on", "at", "all", "both"):
        words.pop(0)
    return " ".join(words)


def pin_named(text: str, wiring: Wiring) -> Place | None:
    """Return the pin that a text names, of the towing socket if no other is said; or None.

    Parameters
    ----------
    text : str
        What was said.
    wiring : Wiring
        The rig.
    """
    match = re.search(r"\b(?:pin|contact)\s+(\w+)(?:\s+of\s+(?:the\s+)?(.*))?", text)
    if match is None:
        return None
    return Place(PlaceKind.PIN, socket_named(match[2] or "", wiring), match[1])


def socket_named(said: str, wiring: Wiring) -> str:
    """Return the name of the socket that a text means: the towing one if it means no other.

    Parameters
    ----------
    said : str
        What was said.
    wiring : Wiring
        The rig.
    """
    asked = said.replace("socket", "").strip()
    for socket in wiring.rig.sockets:
        if asked and asked in socket.name.casefold():
            return socket.name
    return wiring.rig.towing


def fuse_named(name: str, said: str, wiring: Wiring) -> str:
    """Return the fuse that a name means: as it is, or any.

    Parameters
    ----------
    name, said : str
        The name, and all that was said.
    wiring : Wiring
        The rig.

    Raises
    ------
    InvalidInput
        If the rig has none that is called so.
    """
    fuses = {n: part.function for n, part in wiring.parts.items() if part.kind == "fuse"}
    words = set(name.replace("_", " ").split())
    asked = {"any", "all", "trailer"} & words
    known = {circuit_of(f) for f in fuses.values()} | {
        w for f in fuses.values() for w in f.split("_")
    }
    if name in fuses or asked or words & known:
        return name or "any"
    offered = ", ".join(sorted({circuit_of(f) for f in fuses.values()}))
    raise InvalidInput("seen", said, f"name the fuse of one of: {offered}")


def load_named(name: str, said: str, wiring: Wiring) -> str:
    """Return a name of lamps or brakes that means something on this rig.

    Parameters
    ----------
    name, said : str
        The name, and all that was said.
    wiring : Wiring
        The rig.

    Raises
    ------
    InvalidInput
        If it means nothing.
    """
    if meant_by(wiring, name):
        return name
    names = ", ".join(dict.fromkeys(load.name for load in wiring.loads))
    raise InvalidInput(
        "seen", said, f"name a lamp or a group (left rear, markers, brakes) or {names}"
    )
