"""The whole rig as one network. Commands, faults and tolerances are cases of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from loomwright.circuit import Network
from loomwright.electrics.answers import Part
from loomwright.electrics.boxes import add_converter
from loomwright.electrics.conditions import Conditions, conditions_for
from loomwright.electrics.harness import Harness
from loomwright.electrics.loads import add_loads
from loomwright.electrics.mating import add_plug_and_cord
from loomwright.electrics.places import LoadPlace, PinPlace
from loomwright.electrics.sockets import add_sockets
from loomwright.electrics.vehicle_side import add_vehicle
from loomwright.invalid import InvalidInput
from loomwright.rig.model import Rig

MOST_KEPT = 16
"""Networks that are kept: a screen looks at the same rig from several sides."""


@dataclass(frozen=True, slots=True)
class Wiring:
    """A rig as a network under one set of conditions, and what everything in it is.

    Attributes
    ----------
    parts : mapping of str to Part
        What each element of the network is on the rig.
    bundles : mapping of str to str
        The lead, cord or run each of its wires lies in.
    loads, pins : tuple
        Where the readings are taken.
    plug_contacts : tuple of str
        The contacts that open when the plug is pulled.
    fuse_kinds : mapping of str to str
        Kind of each fuse, as in the fuse table.
    channels : mapping of str to tuple of str
        For each output of the converter the vehicle feeds it is made from.
    """

    rig: Rig
    conditions: Conditions
    network: Network
    parts: Mapping[str, Part]
    bundles: Mapping[str, str]
    loads: tuple[LoadPlace, ...]
    pins: tuple[PinPlace, ...]
    plug_contacts: tuple[str, ...]
    fuse_kinds: Mapping[str, str]
    channels: Mapping[str, tuple[str, ...]]


def wire_up(rig: Rig, conditions: Conditions | str = "nominal") -> Wiring:
    """Build the network of a rig.

    Parameters
    ----------
    rig : Rig
        The rig.
    conditions : Conditions or str
        A set of conditions, or the key of one of those `conditions_for` gives.

    Raises
    ------
    InvalidInput
        If there are no such conditions, or the rig names a part that no table has.
    """
    given = _conditions(rig, conditions) if isinstance(conditions, str) else conditions
    return _wired(rig, given)


@lru_cache(maxsize=MOST_KEPT)
def _wired(rig: Rig, given: Conditions) -> Wiring:
    bench = Harness(given)
    add_vehicle(bench, rig)
    if rig.converter is not None:
        add_converter(bench, rig, rig.converter)
    add_sockets(bench, rig)
    add_plug_and_cord(bench, rig)
    add_loads(bench, rig)
    return Wiring(
        rig,
        given,
        Network(bench.elements),
        bench.parts,
        bench.bundles,
        tuple(bench.loads),
        tuple(bench.pins),
        tuple(bench.plug_contacts),
        bench.fuse_kinds,
        bench.channels,
    )


def _conditions(rig: Rig, key: str) -> Conditions:
    known = conditions_for(rig)
    for each in known:
        if each.key == key:
            return each
    raise InvalidInput("conditions", key, "use one of " + ", ".join(each.key for each in known))
