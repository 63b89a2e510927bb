"""Where the numbers of a part come from: formula, table row, source, standing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.electrics.answers import Part
from loomwright.electrics.lights import filament_point
from loomwright.quantities import show_current, show_resistance, show_temperature
from loomwright.reference.brakes import magnet
from loomwright.reference.conductors import area_mm2, insulation, resistance_ohm_per_m
from loomwright.reference.fuses import cold_resistance
from loomwright.reference.joints import joint
from loomwright.reference.leds import led_form
from loomwright.reference.sources import cited, source
from loomwright.rig.model import Bulb, Led, Rig

COPPER_SOURCES = {
    "awg": "astm-b258; iec-60028; nec-ch9-t8",
    "sae": "sae-j1127-areas; iec-60028; nec-ch9-t8",
    "mm2": "iec-60228; iso-6722-1",
}
"""What the resistance of a size stands on; see `reference.copper`."""

AMPACITY_SOURCE = "cfr-33-183-425: Table 5"


@dataclass(frozen=True, slots=True)
class Origin:
    """One thing known: what it is, its value, and on whose word.

    `cites` are titles of sources with the place in them; `standing` is found, memory or common
    practice.
    """

    what: str
    value: str
    cites: tuple[str, ...]
    standing: str


def origins(part: Part, rig: Rig) -> tuple[Origin, ...]:
    """Return what the numbers of a part stand on."""
    return tuple(_origins(part, rig))


def cites(text: str) -> tuple[str, ...]:
    """Return the sources of a cell by title, with their places."""
    found = []
    for key, place in cited(text):
        title = source(key).title
        found.append(title if place is None else f"{title}, {place}")
    return tuple(found)


def _origins(part: Part, rig: Rig) -> Iterator[Origin]:
    match part.kind:
        case "wire":
            yield from _wire(part, rig)
        case "joint" | "contact" if part.joint_kind is not None:
            yield from _joint(part.joint_kind)
        case "fuse":
            yield from _fuse(part, rig)
        case "load":
            yield from _load(part, rig)
        case _:
            pass


def _wire(part: Part, rig: Rig) -> Iterator[Origin]:
    if part.size is None:
        return
    per_km = 1000 * resistance_ohm_per_m(part.size)
    warm = show_temperature(20, rig.units)
    words = cites(COPPER_SOURCES[part.size.system])
    value = f"{area_mm2(part.size):.3g}\u00a0mm², {per_km:.3g}\u00a0Ω/km at {warm}"
    yield Origin(f"Copper of {part.size}", value, words, "found")
    if part.insulation is not None:
        row = insulation(part.insulation)
        most = show_temperature(row.max_c, rig.units)
        yield Origin(row.title, f"stands {most}", cites(row.source), row.standing)
    yield Origin(
        "What it may carry", "by size, insulation and bundle", cites(AMPACITY_SOURCE), "found"
    )


def _joint(kind: str) -> Iterator[Origin]:
    row = joint(kind)
    value = f"new {show_resistance(row.new_ohm)}, aged {show_resistance(row.aged_ohm)}"
    yield Origin(row.title, value, cites(row.source), row.standing)


def _fuse(part: Part, rig: Rig) -> Iterator[Origin]:
    feeds = [feed for feed in rig.vehicle.feeds if part.ref == f"vehicle.feed.{feed.function}"]
    if rig.converter is not None and part.ref == "converter.feed":
        feeds = [rig.converter.feed] if rig.converter.feed is not None else []
    for holder in (feed.fuse for feed in feeds if feed.fuse is not None):
        row = cold_resistance(holder.kind, holder.rating_a)
        what = f"{show_current(holder.rating_a)} fuse, cold"
        yield Origin(what, show_resistance(row.value), cites(row.source), row.standing)


def _load(part: Part, rig: Rig) -> Iterator[Origin]:
    for lamp in rig.trailer.lamps:
        for light in lamp.lights:
            if part.ref == f"trailer.lamp.{lamp.name}.{light.function}":
                yield from _light(light.source, rig.trailer.nominal_v)
    for feed in rig.vehicle.feeds:
        if part.ref == f"vehicle.feed.{feed.function}.lamp":
            for light in feed.lights[:1]:
                yield from _light(light.source, rig.vehicle.supply.nominal_v)
    for brake in rig.trailer.brakes:
        if part.ref == f"trailer.brake.{brake.name}":
            row = magnet(brake.size_in)
            cold = show_resistance(row.resistance_20_ohm)
            what = f"Magnet of a {brake.size_in:g}\u00a0in drum"
            yield Origin(what, f"{cold} cold", cites(row.source), row.standing)


def _light(light: Bulb | Led, nominal_v: float) -> Iterator[Origin]:
    if isinstance(light, Led):
        form = led_form(light.form)
        value = f"{show_current(light.current_a)} at {light.at_v:g}\u00a0V"
        yield Origin(f"LED lamp: {form.title}", value, cites(form.source), form.standing)
        return
    point = filament_point(light, nominal_v)
    filament = "" if light.filament == "single" else f", {light.filament} filament"
    value = f"{show_current(point.rated_a)} at {point.rated_v:g}\u00a0V, {point.lumen:g}\u00a0lm"
    yield Origin(f"Bulb {light.key}{filament}", value, cites(point.source), point.standing)
