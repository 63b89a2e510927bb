"""Faults while they are being drawn up: not weighed against each other yet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from loomwright.circuit import Resistor
from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Bridged, Fault, Opened
from loomwright.electrics.answers import Part
from loomwright.electrics.harness import CHASSIS, REFERENCE, slug
from loomwright.electrics.trailer_side import frame_node
from loomwright.electrics.wiring import Wiring
from loomwright.trace.form_words import form_words, repair_words, spoken_name
from loomwright.trace.homes import Home, home_of
from loomwright.trace.model import RigFault, Sign
from loomwright.trace.usual import UNSAID, is_known, usual


@dataclass(frozen=True, slots=True)
class Draft:
    """A fault before it is weighed: where, which form, what it changes.

    `at` is the very element in words, where the part has several.
    """

    home: Home
    form: str
    changes: tuple[Fault, ...]
    size_ohm: float | None = None
    comes_and_goes: bool = False
    signs: tuple[Sign, ...] = ()
    sizes: int = 1
    factor: float = 1.0
    at: str = ""


@dataclass(frozen=True, slots=True)
class Plant:
    """The rig's circuit with the questions that drawing up faults asks of it."""

    wiring: Wiring

    def home(self, element: str) -> Home:
        """Where an element belongs."""
        return home_of(self.wiring.rig, self.wiring.parts[element])

    def part(self, element: str) -> Part:
        """What an element is."""
        return self.wiring.parts[element]

    def has(self, element: str) -> bool:
        """Whether there is an element of this name."""
        return element in self.wiring.parts

    def ends(self, element: str) -> tuple[str, str]:
        """Nodes of an element."""
        return ends(self.wiring.network.element(element))[0]

    def metal(self, element: str) -> str:
        """Node of the metal that a chafed wire would touch."""
        part = self.part(element)
        if part.ref.startswith(("vehicle", "socket", "converter")):
            return CHASSIS
        nodes = self.wiring.network.nodes
        return next((n for n in (frame_node(0.0), "junction_ground") if n in nodes), REFERENCE)

    def resistors(self, prefix: str) -> list[str]:
        """Names of the resistors that begin so."""
        return [
            e.name
            for e in self.wiring.network.elements
            if isinstance(e, Resistor) and e.name.startswith(prefix)
        ]


def crossed(plant: Plant, order: Sequence[str], taken: Sequence[str]) -> tuple[Fault, ...]:
    """Return what joins the vehicle's side of each element to the trailer's side of another.

    Parameters
    ----------
    plant : Plant
        The rig's circuit.
    order, taken : sequence of str
        Elements at one place; each of `order` is joined to the far side of that of `taken`.
    """
    changes: list[Fault] = [Opened(name) for name in order]
    for one, other in zip(order, taken, strict=True):
        changes.append(Bridged(_near(plant, one), _far(plant, other), 0.01))
    return tuple(changes)


def _near(plant: Plant, element: str) -> str:
    a, b = plant.ends(element)
    return b if plant.part(element).path == "return" else a


def _far(plant: Plant, element: str) -> str:
    a, b = plant.ends(element)
    return a if plant.part(element).path == "return" else b


def weigh(drafts: Iterable[Draft]) -> tuple[RigFault, ...]:
    """Weigh drafts against each other: the more places a form may be in, the less for each."""
    known = [each for each in drafts if is_known(each.home.place, each.form)]
    places = {(d.home.place, d.form, d.home.part) for d in known}
    many = Counter((place, form) for place, form, _ in places)
    of_part = Counter((d.home.place, d.form, d.home.part, d.size_ohm) for d in known)
    keys: Counter[str] = Counter()
    return tuple(_fault(each, many, of_part, keys) for each in known)


def _fault(
    draft: Draft,
    many: Counter[tuple[str, str]],
    of_part: Counter[tuple[str, str, str, float | None]],
    keys: Counter[str],
) -> RigFault:
    home, form = draft.home, draft.form
    share = many[home.place, form] ** -0.5 / draft.sizes
    share /= of_part[home.place, form, home.part, draft.size_ohm]
    if draft.comes_and_goes:
        share *= UNSAID
    at = draft.at or home.part
    key = "_".join(
        filter(None, (_name(home.place, at, home.circuit), form, _size_key(draft.size_ohm)))
    )
    keys[key] += 1
    if keys[key] > 1:
        key = f"{key}_{keys[key]}"
    words = form_words(home.place, form, draft.size_ohm)
    return RigFault(
        key,
        f"{spoken_name(at)}: {words}",
        home.side,
        home.place,
        spoken_name(home.part),
        form,
        home.circuit,
        draft.changes,
        usual(home.place, form, home.circuit) * share * draft.factor,
        draft.size_ohm,
        draft.comes_and_goes,
        draft.signs,
        repair_words(home.place, form),
    )


@lru_cache(maxsize=4096)
def _name(place: str, at: str, circuit: str) -> str:
    return slug(place, at, circuit)


@lru_cache(maxsize=64)
def _size_key(size_ohm: float | None) -> str:
    return "" if size_ohm is None else slug(f"{size_ohm:g}", "ohm")
