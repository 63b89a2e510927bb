"""Where on the network the loads and the pins are."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.electrics.answers import LoadKind
from loomwright.rig.model import Bulb, Led


@dataclass(frozen=True, slots=True)
class LoadPlace:
    """A load between the nodes `a` and `b`.

    `fed_by` is the vehicle feed whose pulses reach it (None: none, or a converter between);
    `source` the light source of a lamp; `gives` is true for a battery, whose current the
    network counts outwards.
    """

    name: str
    kind: LoadKind
    function: str
    element: str
    a: str
    b: str
    fed_by: str | None
    source: Bulb | Led | None = None
    gives: bool = False


@dataclass(frozen=True, slots=True)
class PinPlace:
    """A pin of a socket: its node, and the node of its return in the same socket, if any."""

    socket: str
    pin: str
    function: str
    node: str
    return_node: str | None
    fed_by: str | None
