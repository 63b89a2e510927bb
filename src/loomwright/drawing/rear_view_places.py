"""Where the lamps of a trailer stand as one looks at its rear. [mm]"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from loomwright.drawing.lamps import glow_colour
from loomwright.drawing.lettering import Box
from loomwright.rig.model import Lamp, Light, Trailer

WIDTH_MM, HEIGHT_MM = 100.0, 78.0
OPEN_KINDS = ("utility", "flatbed", "boat", "pole", "converter_dolly", "agricultural")
"""Trailers without walls to carry a lamp high up."""

REAR_WITHIN = 0.2
"""A lamp within this share of the trailer's length from the farthest stands at the rear."""

MAIN_MM, SMALL_MM, TINY_MM = 4.2, 3.0, 2.4
PITCH_MM = 15.0
REACH_MM = 42.0
"""How far to the middle the lenses of one side may reach."""

AWAY_MM, AWAY_PITCH_MM = 7.0, 10.0
HIGH = {"main": 36.0, "top": 10.0, "bar": 10.0, "plate": 51.0, "away": 89.0}
LOW = {"main": 40.5, "top": 40.5, "bar": 40.5, "plate": 55.0, "away": 89.0}
"""How high each kind of lamp is drawn, on a trailer with a wall at its rear and without."""

Slot = Literal["main", "top", "bar", "plate", "away"]


@dataclass(frozen=True, slots=True)
class Seat:
    """One lens: its name, the loads behind it, its middle, size and colour.

    `xs` are the middles of its lights: an identification bar has three.
    """

    name: str
    loads: tuple[str, ...]
    colour: str
    slot: Slot
    x: float = 0.0
    y: float = 0.0
    radius: float = MAIN_MM
    lights: int = 1

    @property
    def xs(self) -> tuple[float, ...]:
        """Middles of its lights, from left to right."""
        step = 2.6 * self.radius
        first = self.x - step * (self.lights - 1) / 2
        return tuple(first + step * n for n in range(self.lights))

    @property
    def is_plate(self) -> bool:
        """Whether it lights the plate."""
        return self.slot == "plate"


def load_name(lamp: Lamp, light: Light) -> str:
    """Return the name a light has among the loads of the rig."""
    return f"{lamp.name} {light.function.replace('_', ' ')}"


def body_of(trailer: Trailer) -> Box:
    """Return the outline of the rear: a wall, or a deck with nothing on it."""
    return Box(8.0, 34.0, 92.0, 52.0) if is_open(trailer) else Box(8.0, 2.0, 92.0, 66.0)


def is_open(trailer: Trailer) -> bool:
    """Return whether a trailer has no wall at its rear."""
    return trailer.kind in OPEN_KINDS


def seats_of(trailer: Trailer) -> tuple[Seat, ...]:
    """Return every lens of a trailer in its place, those that are not at the rear below it."""
    groups: dict[tuple[Slot, str], list[Seat]] = defaultdict(list)
    for lamp in trailer.lamps:
        for seat in _lenses(trailer, lamp):
            groups[seat.slot, "centre" if seat.slot in ("bar", "plate") else lamp.side].append(seat)
    most = max((len(seats) for (slot, _), seats in groups.items() if slot == "main"), default=1)
    return tuple(
        placed
        for (slot, side), seats in groups.items()
        for placed in _placed(trailer, slot, side, seats, most if slot == "main" else len(seats))
    )


def _lenses(trailer: Trailer, lamp: Lamp) -> Iterator[Seat]:
    """Yield the lenses of a housing: one for each colour it shows."""
    loads: dict[str, list[str]] = defaultdict(list)
    for light in lamp.lights:
        usual = "white" if lamp.counts_as == ("plate_lamp",) else lamp.colour
        loads[glow_colour(light.function, usual)].append(load_name(lamp, light))
    slot = _slot(trailer, lamp)
    bars = max(1, sum(1 for kind in lamp.counts_as if kind.startswith("identification")))
    radius = {"main": MAIN_MM, "top": SMALL_MM, "plate": TINY_MM, "away": TINY_MM}.get(
        slot, TINY_MM
    )
    for colour, names in loads.items():
        yield Seat(lamp.name, tuple(names), colour, slot, radius=radius, lights=min(bars, 3))


def _slot(trailer: Trailer, lamp: Lamp) -> Slot:
    farthest = max(each.back_m for each in trailer.lamps)
    if lamp.back_m < farthest - max(REAR_WITHIN * trailer.length_m, 0.5):
        return "away"
    kinds = set(lamp.counts_as)
    if kinds & {"tail_lamp", "stop_lamp", "turn_signal_rear", "backup_lamp"}:
        return "main"
    if kinds & {"identification_rear"}:
        return "bar"
    if kinds & {"clearance_rear", "side_marker_rear"}:
        return "top"
    return "plate" if "plate_lamp" in kinds else "main"


def _placed(
    trailer: Trailer, slot: Slot, side: str, seats: list[Seat], most: int
) -> Iterator[Seat]:
    """Put the lenses of one slot beside each other, the first outermost; both sides alike."""
    low = is_open(trailer)
    edge = {"main": 21.0, "top": 20.0}.get(slot, WIDTH_MM / 2)
    y = (LOW if low else HIGH)[slot]
    for number, seat in enumerate(seats):
        if slot == "away":
            x = {"left": AWAY_MM, "right": WIDTH_MM / 2 + AWAY_MM}.get(side, AWAY_MM)
            yield replace(seat, x=x, y=y + AWAY_PITCH_MM * number)
            continue
        pitch = _pitch_mm(edge, most)
        step = pitch * number
        x = {"left": edge + step, "right": WIDTH_MM - edge - step}.get(side, WIDTH_MM / 2)
        if side == "centre":
            x += PITCH_MM * (number - (len(seats) - 1) / 2)
        yield replace(seat, x=x, y=y, radius=min(seat.radius, 0.42 * pitch))


def _pitch_mm(edge: float, lenses: int) -> float:
    """Return the step between lenses of one side: closer where there are many."""
    return PITCH_MM if lenses < 3 else min(PITCH_MM, (REACH_MM - edge) / (lenses - 1))
