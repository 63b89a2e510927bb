"""Conductors from what was written: single wires, fuses, and the lead behind a connector."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from loomwright.colours import Colour, read_colour
from loomwright.quantities import WireSize, read_length_m, read_wire_size
from loomwright.reference.connectors import Connector, Pin
from loomwright.reference.conventions import Convention, convention
from loomwright.reference.defaults import Default, Variant, default_for
from loomwright.rig.entries import NO_FUSE, read_fuse
from loomwright.rig.fill import Fill
from loomwright.rig.job_part import JobWire
from loomwright.rig.job_socket import JobLead
from loomwright.rig.known import UNKNOWN
from loomwright.rig.model import FuseHolder, PinWire, Wire

NO_WIRE = JobWire()
NO_LEAD = JobLead()


@dataclass(frozen=True, slots=True)
class Usual:
    """The defaults of a wire that was left out."""

    size: Default
    length: Default
    insulation: Default

    @classmethod
    def of(cls, part: str, item: str, variant: Variant | None, prefix: str = "") -> Usual:
        """Return the defaults of a part of the rig; `prefix` goes before size and length."""
        return cls(
            default_for(part, item, f"{prefix}size", variant),
            default_for(part, item, f"{prefix}length", variant),
            default_for(insulated_like(part), item, "insulation", variant),
        )


def insulated_like(part: str) -> str:
    """Return the part whose insulation row holds for this one as well."""
    return {"vehicle": "feed", "converter": "feed"}.get(part, part)


def wire_from(fill: Fill, path: str, written: JobWire | None, usual: Usual) -> Wire:
    """Return a wire, with the defaults where it was left out."""
    wire = written or NO_WIRE
    return Wire(
        size=read_wire_size(fill.text(f"{path}.size", wire.size, usual.size)),
        length_m=read_length_m(fill.text(f"{path}.length", wire.length, usual.length)),
        colour=None if wire.colour is None else read_colour(wire.colour),
        insulation=fill.text(f"{path}.insulation", wire.insulation, usual.insulation),
    )


def fuse_from(
    fill: Fill, path: str, written: str | None, rating: Default, variant: Variant | None
) -> FuseHolder | None:
    """Return a fuse; none only where the file says so."""
    text = fill.text(path, written, rating)
    if text == NO_FUSE:
        return None
    rating_a, kind = read_fuse(text)
    usual = default_for("feed", "other", "fuse_kind", variant)
    return FuseHolder(kind or fill.text(f"{path}.kind", None, usual), rating_a)


@dataclass(frozen=True, slots=True)
class LeadPlan:
    """What a lead or cord is made from: its connector and what was written of it."""

    part: str
    path: str
    connector: Connector
    variant: Variant | None
    written: JobLead
    length_m: float

    @property
    def has_colours(self) -> bool:
        """Whether the colours of its conductors are known at all."""
        return self.written.colours != UNKNOWN

    def convention(self, fill: Fill) -> Convention | None:
        """Return whose colours the conductors wear."""
        if not self.has_colours:
            return None
        if self.written.colours is not None:
            return convention(self.written.colours)
        usual = convention(self.connector.key)
        says = f"usual colours of the connector: {usual.title}"
        row = usual.row
        fill.assume(f"{self.path}.colours", usual.key, says, row.source, row.standing)
        return usual


def conductors(fill: Fill, plan: LeadPlan) -> tuple[PinWire, ...]:
    """Return the conductors of a lead or cord, in pin order.

    A pin has a conductor unless the connector's table gives it no core, or the file says that
    it is missing; a table of its own in the file makes it present in any case.
    """
    own = plan.written.conductors
    for function in own:
        if function not in plan.connector.functions:
            known = ", ".join(plan.connector.functions)
            fix = f"take it out: the {plan.connector.key} connector carries {known}"
            fill.refuse(f"{plan.path}.{function}", function, fix)
    colours = plan.convention(fill)
    return tuple(
        PinWire(pin.number, pin.function, _conductor(fill, plan, pin, colours, own))
        for pin in plan.connector.pins
        if _is_wired(pin, plan.written, own)
    )


def _is_wired(pin: Pin, written: JobLead, own: Mapping[str, JobWire]) -> bool:
    if pin.function in (written.without or ()):
        return False
    return pin.function in own or pin.colour_text is not None


def _conductor(
    fill: Fill,
    plan: LeadPlan,
    pin: Pin,
    colours: Convention | None,
    own: Mapping[str, JobWire],
) -> Wire:
    written = own.get(pin.function, NO_WIRE)
    path = f"{plan.path}.{pin.function}"
    insulation = default_for(plan.part, pin.function, "insulation", plan.variant)
    return Wire(
        size=_size(fill, plan, pin, written.size),
        length_m=plan.length_m if written.length is None else read_length_m(written.length),
        colour=_colour(fill, path, pin, written.colour, colours),
        insulation=written.insulation
        or fill.text(f"{plan.path}.insulation", plan.written.insulation, insulation),
    )


def _size(fill: Fill, plan: LeadPlan, pin: Pin, written: str | None) -> WireSize:
    if written or plan.written.size:
        return read_wire_size(written or plan.written.size or "")
    path = f"{plan.path}.{pin.function}.size"
    if pin.size is not None and pin.size_standing == "found":
        says = f"size for pin {pin.number} of the {plan.connector.key}"
        fill.assume(path, pin.size, says, pin.source, pin.size_standing)
        return read_wire_size(pin.size)
    row = default_for(plan.part, pin.function, "size", plan.variant)
    return read_wire_size(fill.text(path, None, row))


def _colour(
    fill: Fill, path: str, pin: Pin, written: str | None, colours: Convention | None
) -> Colour | None:
    if written is not None:
        return read_colour(written)
    if colours is None:
        return None
    for by in ("pin", "function"):
        for entry in colours.colours:
            same_pin = entry.pin == pin.number and entry.function == pin.function
            if same_pin if by == "pin" else entry.function == pin.function:
                return entry.colour
    return None
