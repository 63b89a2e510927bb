"""Filament lamps by the key written on them: SAE trade numbers and UN categories."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.reference.copper import PACKAGE
from loomwright.tables import read_rows

Filament = Literal["single", "major", "minor"]

LIGHT_EXPONENT = 3.4
"""Light grows with voltage to this power; 3.38 gas-filled, 3.51 vacuum.

Sources: lamp-rerating; ies-handbook."""

CURRENT_EXPONENT = 0.55
"""Current grows with voltage to this power, from 70 to 120 % of design volts.

Source: lamp-rerating."""

POWER_EXPONENT = 1.55
"""1 + `CURRENT_EXPONENT`; 1.54 gas-filled, 1.58 vacuum. Source: ies-handbook."""

LIFE_EXPONENT = -13.0
"""Life shrinks with voltage to this power; makers give 12 to 16. Source: lamp-life."""

COLD_RATIO = 13.0
"""Hot over cold resistance; 9 to 15 measured. Memory, of tungsten tables."""

LUMENS_PER_CANDELA = 4 * math.pi
"""Of a lamp that shines all round: one mean spherical candela."""

UN_POWER_TOLERANCE = 1.06
"""A sheet's ceiling over its objective watts, where only the ceiling is known."""


@dataclass(frozen=True, slots=True)
class SaeLampRow:
    """One filament of a trade number: design volts and amperes, mean spherical candela."""

    key: str
    system_v: int
    filament: Filament
    design_v: float
    design_a: float
    candela: float
    note: str | None
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class UnLampRow:
    """One filament of a UN category: rated watts, and watts and lumens at the test voltage."""

    key: str
    system_v: int
    filament: Filament
    rated_w: float
    test_v: float
    max_w: float
    objective_w: float | None
    lumen: float
    lumen_tolerance_percent: float
    note: str | None
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class FilamentPoint:
    """The published point of a filament: its voltage, its current there and its light there."""

    rated_v: float
    rated_a: float
    lumen: float
    note: str | None
    source: str
    standing: str

    @property
    def rated_w(self) -> float:
        """Power at the published point. [W]"""
        return self.rated_v * self.rated_a


@dataclass(frozen=True, slots=True)
class Lamp:
    """A filament lamp: the key on its cap, the system it is for [V], and its filaments."""

    key: str
    system_v: int
    filaments: Mapping[str, FilamentPoint]


def lamps() -> tuple[Lamp, ...]:
    """Return every lamp of the tables, SAE trade numbers first."""
    return tuple(_lamps().values())


def lamp(key: str, system_v: int | None = None) -> Lamp:
    """Return a lamp by the key written on it.

    Parameters
    ----------
    key : str
        Trade number (``1157``) or UN category (``P21/5W``), in any case.
    system_v : int, optional
        6, 12 or 24. If left out: the 12 V lamp of that key, else the only one. [V]

    Raises
    ------
    InvalidInput
        If no lamp has that key, or none for that system; names the nearest.

    References
    ----------
    sae-j573; un-r37.
    """
    wanted = _plain(key)
    found = _by_key().get(wanted, ())
    if not found:
        raise InvalidInput("lamp", key, _nearest(wanted))
    for each in found:
        if each.system_v == (12 if system_v is None else system_v):
            return each
    if system_v is None:
        return found[0]
    made_for = " and ".join(f"{each.system_v} V" for each in found)
    raise InvalidInput("lamp", key, f"{found[0].key} is made for {made_for}: use another lamp")


def light_share(voltage_v: float, rated_v: float) -> float:
    """Return the light of a filament as a share of that at its published voltage.

    Notes
    -----
    (V / V_rated)^3.4, with the size of V: a filament does not mind the direction. Within some
    percent from 70 to 120 % of rated volts; below 20 % no useful light is left.

    References
    ----------
    lamp-rerating.
    """
    return float((abs(voltage_v) / rated_v) ** LIGHT_EXPONENT)


def life_share(voltage_v: float, rated_v: float) -> float:
    """Return the life of a filament as a share of that at design voltage. Source: lamp-life."""
    return float((voltage_v / rated_v) ** LIFE_EXPONENT)


@cache
def _lamps() -> Mapping[tuple[str, int], Lamp]:
    filaments: dict[tuple[str, int], dict[str, FilamentPoint]] = {}
    for key, system_v, filament, point in _points():
        if filament in filaments.setdefault((key, system_v), {}):
            raise ValueError(f"lamp {key} for {system_v} V has two {filament} filaments")
        filaments[key, system_v][filament] = point
    return MappingProxyType(
        {
            (key, system_v): Lamp(key, system_v, MappingProxyType(points))
            for (key, system_v), points in filaments.items()
        }
    )


@cache
def _by_key() -> Mapping[str, tuple[Lamp, ...]]:
    found: dict[str, tuple[Lamp, ...]] = {}
    for each in _lamps().values():
        found[_plain(each.key)] = (*found.get(_plain(each.key), ()), each)
    return MappingProxyType(found)


def _points() -> Iterator[tuple[str, int, Filament, FilamentPoint]]:
    for sae in read_rows(PACKAGE, "lamps_sae", SaeLampRow):
        lumen = sae.candela * LUMENS_PER_CANDELA
        point = FilamentPoint(sae.design_v, sae.design_a, lumen, sae.note, sae.source, sae.standing)
        yield sae.key, sae.system_v, sae.filament, point
    for un in read_rows(PACKAGE, "lamps_un", UnLampRow):
        power_w = un.objective_w or un.max_w / UN_POWER_TOLERANCE
        point = FilamentPoint(
            un.test_v, power_w / un.test_v, un.lumen, un.note, un.source, un.standing
        )
        yield un.key, un.system_v, un.filament, point


def _plain(key: str) -> str:
    return "".join(sign for sign in key.casefold() if sign.isalnum())


def _nearest(wanted: str) -> str:
    known = {_plain(each.key): each.key for each in _lamps().values()}
    near = difflib.get_close_matches(wanted, known, n=4, cutoff=0.5)
    shown = [known[each] for each in near] or sorted(known.values())[:8]
    return f"use the key on the lamp's cap, like {', '.join(shown)}"
