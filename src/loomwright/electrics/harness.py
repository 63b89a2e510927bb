"""The bench on which a rig becomes a network: elements, and what each is on the rig."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field
from functools import lru_cache

from loomwright.circuit import Element, Fuse, Resistor, Switch
from loomwright.electrics.answers import Part, PartKind, Path
from loomwright.electrics.conditions import Conditions
from loomwright.electrics.places import LoadPlace, PinPlace
from loomwright.electrics.resistances import fuse_ohm, joint_ohm, wire_ohm
from loomwright.rig.model import FuseHolder, Wire

BATTERY_PLUS = "battery_plus"
CHASSIS = "chassis"
REFERENCE = "0"

Ends = tuple[str, str]
"""The nodes of an element, in the direction current flows when all is well."""


MOST_KEPT = 4096
"""Names that are kept: a rig has some hundreds, and is wired again after every change."""

NOT_PLAIN = re.compile(r"[^a-z0-9]+")


@lru_cache(maxsize=MOST_KEPT)
def slug(*words: str | int | None) -> str:
    """Return words as one name of a node or element: a to z, digits and underscores.

    Accents go; a letter of another script becomes its number in Unicode.
    """
    text = "_".join(str(word) for word in words if word not in ("", None))
    if text.isascii():
        return NOT_PLAIN.sub("_", text.lower()).strip("_")
    plain = unicodedata.normalize("NFKD", text).casefold()
    bare = (c for c in plain if not unicodedata.combining(c))
    spelled = (f"u{ord(c):x}" if c.isalpha() and not c.isascii() else c for c in bare)
    return NOT_PLAIN.sub("_", "".join(spelled)).strip("_")


@dataclass(frozen=True, slots=True)
class Spot:
    """Where on the rig an element belongs: see `Part` for the fields."""

    path: Path
    station: str
    function: str
    ref: str
    bundle: str = ""

    def at(self, station: str, ref: str = "", bundle: str = "") -> Spot:
        """Return the same circuit at another station."""
        return Spot(self.path, station, self.function, ref or self.ref, bundle)


@dataclass(slots=True)
class Harness:
    """What has been built so far; made once by `wire_up`, then frozen into a `Wiring`.

    The fields are those of `Wiring`.
    """

    conditions: Conditions
    elements: list[Element] = field(default_factory=list)
    parts: dict[str, Part] = field(default_factory=dict)
    bundles: dict[str, str] = field(default_factory=dict)
    loads: list[LoadPlace] = field(default_factory=list)
    pins: list[PinPlace] = field(default_factory=list)
    plug_contacts: list[str] = field(default_factory=list)
    fuse_kinds: dict[str, str] = field(default_factory=dict)
    channels: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def add(self, element: Element, kind: PartKind, place: str, spot: Spot) -> None:
        """Put an element on the bench."""
        self.elements.append(element)
        self.parts[element.name] = Part(*_said(element.name, kind, place, spot))

    def wire(self, name: str, ends: Ends, wire: Wire, place: str, spot: Spot) -> None:
        """Lay a conductor."""
        self.elements.append(Resistor(name, *ends, wire_ohm(wire, self.conditions.wire_c)))
        self.parts[name] = Part(
            *_said(name, "wire", place, spot),
            size=wire.size,
            length_m=wire.length_m,
            insulation=wire.insulation,
        )
        if spot.bundle:
            self.bundles[name] = spot.bundle

    def joint(
        self, name: str, ends: Ends, kind: str, place: str, spot: Spot, *, share: float = 1.0
    ) -> None:
        """Make a joint or contact; `share` of the resistance of its kind lies here."""
        ohm = share * joint_ohm(kind, self.conditions.contacts)
        self.elements.append(Resistor(name, *ends, ohm))
        contact = kind in ("socket-contact", "bulb-holder", "screw-terminal")
        said = _said(name, "contact" if contact else "joint", place, spot)
        self.parts[name] = Part(*said, joint_kind=kind)

    def fuse(self, name: str, ends: Ends, holder: FuseHolder, place: str, spot: Spot) -> None:
        """Put in a fuse."""
        ohm = fuse_ohm(holder, self.conditions.fuses)
        self.add(Fuse(name, *ends, ohm, holder.rating_a), "fuse", place, spot)
        self.fuse_kinds[name] = holder.kind

    def switch(self, name: str, ends: Ends, ohm: float, place: str, spot: Spot) -> None:
        """Put in a switch or driver, open until a command closes it."""
        self.add(Switch(name, *ends, ohm, closed=False), "switch", place, spot)


def _said(
    element: str, kind: PartKind, place: str, spot: Spot
) -> tuple[str, PartKind, Path, str, str, str, str]:
    """Return the fields that every part has, in their order."""
    return element, kind, spot.path, spot.station, place, spot.function, spot.ref
