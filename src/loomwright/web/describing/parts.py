"""The parts of a rig, in the order of the run, and the page of questions about each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from loomwright.rig.places import read_path
from loomwright.web.describing import ask_sockets, ask_trailer, ask_vehicle, choices
from loomwright.web.describing.questions import Question, Section
from loomwright.web.describing.writing import entries_at, value_at

Data = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a rig: its key in addresses, its word, and the list of the entries it has."""

    key: str
    word: str
    lead: str
    listed: str = ""
    one: str = ""


PARTS = (
    Part("job", "Job", "What is done, for whom, and whose rules hold."),
    Part("vehicle", "Vehicle", "The tow vehicle, its signals and its supply."),
    Part(
        "feeds",
        "Feeds",
        "The circuits of the vehicle: a wire, a fuse, and what each does. Tap a wire to change it.",
        *("vehicle.feed", "feed"),
    ),
    Part(
        "sockets",
        "Sockets and lead",
        "The sockets on the vehicle, those of the factory first, and the way to each.",
        *("socket", "socket"),
    ),
    Part("converter", "Converter", "A box between the vehicle's wires and a socket, if any."),
    Part("trailer", "Trailer", "From its plug to the end of the run."),
    Part("lamps", "Lamps", "Every lamp of the trailer, or pair of lamps.", "trailer.lamp", "lamp"),
    Part("brakes", "Brakes", "Its brakes, axle by axle.", "trailer.brake", "axle"),
    Part(
        "supplies",
        "Battery and appliances",
        "The trailer's own battery, and whatever else takes current.",
        *("trailer.appliance", "appliance"),
    ),
)
BY_KEY = {part.key: part for part in PARTS}

PAGES: Mapping[str, Callable[[Data], tuple[Section, ...]]] = {
    "job": ask_vehicle.job_sections,
    "vehicle": ask_vehicle.vehicle_sections,
    "feeds": lambda _: (),
    "sockets": lambda data: (ask_sockets.adapter_section(data),),
    "converter": ask_sockets.converter_sections,
    "trailer": ask_trailer.trailer_sections,
    "lamps": lambda _: (),
    "brakes": ask_trailer.braking_sections,
    "supplies": ask_trailer.supply_sections,
}
ENTRIES: Mapping[str, Callable[[Data, int], tuple[Section, ...]]] = {
    "feeds": ask_vehicle.feed_sections,
    "sockets": ask_sockets.socket_sections,
    "lamps": ask_trailer.lamp_sections,
    "brakes": ask_trailer.brake_sections,
    "supplies": ask_trailer.appliance_sections,
}
LEADS = {"sockets": "socket[{number}].lead", "trailer": "trailer.cord"}
"""Parts whose pages have a lead, and where it stands."""


@dataclass(frozen=True, slots=True)
class Place:
    """A page of questions: of a part, of one of its entries, or of one wire of its lead."""

    part: Part
    number: int = 0
    function: str = ""

    @property
    def address(self) -> str:
        """What follows the address of the description."""
        number = f"/{self.number}" if self.number else ""
        return f"/{self.part.key}{number}" + (f"/{self.function}" if self.function else "")

    @property
    def path(self) -> str:
        """Path of the entry or wire in the job file; "" for a whole part."""
        if self.function:
            return f"{self.lead}.{self.function}"
        return f"{self.part.listed}[{self.number}]" if self.number else ""

    @property
    def lead(self) -> str:
        """Path of the lead that has a wire; "" where there is none."""
        return LEADS.get(self.part.key, "").format(number=self.number)

    def exists(self, data: Data) -> bool:
        """Return whether the rig has such a place."""
        if self.function:
            has_lead = self.part.key in LEADS and self.function.isidentifier()
            return has_lead and Place(self.part, self.number).exists(data)
        if self.part.key == "trailer":
            return self.number <= 1
        return self.number <= len(entries_at(data, self.part.listed)) if self.number else True

    def sections(self, data: Data) -> tuple[Section, ...]:
        """Return what is asked here."""
        if self.function:
            return ask_sockets.conductor_sections(data, self.lead, self.function)
        if self.number and self.part.key in ENTRIES:
            return ENTRIES[self.part.key](data, self.number)
        return PAGES[self.part.key](data)

    def title(self, data: Data) -> str:
        """Return the heading of the page."""
        if self.function:
            return f"{choices.title_of(self.function)} wire"
        if not self.number:
            return self.part.word
        return entry_title(self.part, self.number, value_at(data, self.path))


def entry_title(part: Part, number: int, entry: Any) -> str:
    """Return what an entry of a list is called."""
    said = entry if isinstance(entry, dict) else {}
    if part.key == "feeds":
        return choices.title_of(str(said.get("function") or f"feed {number}"))
    if part.key == "brakes":
        return f"Axle {said.get('axle') or number}"
    name = str(said.get("name") or said.get("connector") or f"{part.one} {number}")
    return name[:1].upper() + name[1:]


def questions_at(place: Place, data: Data) -> tuple[Question, ...]:
    """Return every question of a page."""
    return tuple(one for section in place.sections(data) for one in section.questions)


def place_of(path: str, data: Data) -> Place | None:
    """Return the page that asks about a path; None if only the text of the file shows it."""
    steps = read_path(path)
    top = str(steps[0])
    second = str(steps[1]) if len(steps) > 1 else ""
    number = next((step + 1 for step in steps if isinstance(step, int)), 0)
    key = {
        ("vehicle", "feed"): "feeds",
        ("trailer", "lamp"): "lamps",
        ("trailer", "brake"): "brakes",
        ("trailer", "brakes"): "brakes",
        ("trailer", "breakaway"): "brakes",
        ("trailer", "battery"): "supplies",
        ("trailer", "appliance"): "supplies",
    }.get((top, second)) or {"rig": "job", "socket": "sockets", "adapter": "sockets"}.get(top, top)
    if key not in BY_KEY:
        return None
    part = BY_KEY[key]
    has_entry = bool(part.listed) and path.startswith(f"{part.listed}[")
    here = Place(part, number if has_entry else 0)
    lead = "cord" in steps if key == "trailer" else "lead" in steps
    function = str(steps[-2]) if lead and len(steps) > 2 else ""
    wire = Place(part, number or 1, function)
    if function not in ("", "lead", "cord") and wire.exists(data):
        return wire
    return here if here.exists(data) else Place(part)


def called(path: str, data: Data) -> str:
    """Return a value as the pages ask for it: ``Left turn: How thick?``; the path, if none does."""
    place = place_of(path, data)
    asked = questions_at(place, data) if place else ()
    label = next((one.label for one in asked if one.path == path), None)
    return f"{place.title(data)}: {label}" if place and label else path


def neighbours(part: Part) -> tuple[Part | None, Part | None]:
    """Return the parts before and after, along the run."""
    at = PARTS.index(part)
    return (PARTS[at - 1] if at else None, PARTS[at + 1] if at + 1 < len(PARTS) else None)
