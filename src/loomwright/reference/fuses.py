"""Blade fuses: resistance, how long they hold, colour, the next rating; breakers.

Kinds are those of ISO 8820-3: ``medium`` (type C), ``miniature`` (type F) and
``high-current`` (type E).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from loomwright.invalid import InvalidInput
from loomwright.reference.copper import PACKAGE
from loomwright.tables import read_rows

CONTINUOUS_SHARE = 0.75
"""Of its rating a fuse may carry for hours at 25 °C. Source: fuse-75."""

CONTINUOUS_SHARE_MOST = 0.80
"""The same as choosing 125 % of the normal current. Source: fuse-125."""

HOT_FACTOR = 1.5
"""Resistance at rated current over cold: 1.34 to 1.67 from the drops of blade-fuse-sheets."""


@dataclass(frozen=True, slots=True)
class FuseKind:
    """A kind of blade fuse and its type letter in ISO 8820-3."""

    key: str
    title: str
    iso_type: str
    says: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class FuseResistance:
    """Cold resistance of a fuse and its drop at rated current. [milliohm, mV]"""

    kind: str
    rating_a: float
    cold_mohm: float
    drop_mv: float | None
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class FuseMelting:
    """Typical melting I²t of a fuse, no guaranteed clearing figure. [A² s]"""

    kind: str
    rating_a: float
    typical_a2s: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class FuseBand:
    """When a fuse of a kind must open at a share of its rating: not before, not after. [s]"""

    kind: str
    percent: float
    min_s: float | None
    max_s: float | None
    note: str | None
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class FuseTemperature:
    """Factor on the rating of a blade fuse in surroundings of a temperature."""

    ambient_c: float
    factor: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class FuseColour:
    """A rating a kind of fuse is made in, and its colour."""

    kind: str
    rating_a: float
    colour: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class Breaker:
    """A type of circuit breaker and how it resets."""

    key: str
    title: str
    says: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class OpeningBand:
    """A fuse opens no sooner than `min_s` and no later than `max_s`, infinity if never. [s]"""

    min_s: float
    max_s: float


@dataclass(frozen=True, slots=True)
class FuseFigure:
    """A figure of a fuse; `interpolated` if its rating is not in the table."""

    value: float
    interpolated: bool
    source: str
    standing: str


def fuse_kinds() -> tuple[FuseKind, ...]:
    """Return the kinds of blade fuse."""
    return read_rows(PACKAGE, "fuse_kinds", FuseKind)


def fuse_kind(key: str) -> FuseKind:
    """Return a kind of blade fuse by its key.

    Raises
    ------
    InvalidInput
        If there is no such kind; names those there are.
    """
    for row in fuse_kinds():
        if row.key == key:
            return row
    raise InvalidInput("kind", key, f"use one of {_kind_keys()}")


def ratings(kind: str) -> tuple[float, ...]:
    """Return the ratings a kind of fuse is made in, smallest first. [A]

    Raises
    ------
    InvalidInput
        If there is no such kind.
    """
    return tuple(row.rating_a for row in _colours(kind))


def next_rating_a(kind: str, at_least_a: float) -> float:
    """Return the smallest rating of a kind that is at least this. [A]

    Raises
    ------
    InvalidInput
        If there is no such kind, or it is not made that large.
    """
    for rating_a in ratings(kind):
        if rating_a >= at_least_a:
            return rating_a
    raise InvalidInput("at_least_a", at_least_a, f"{kind} fuses end at {ratings(kind)[-1]:g} A")


def colour(rating_a: float, kind: str = "medium") -> str:
    """Return the colour of a fuse as a colour name, ``natural`` for clear.

    Raises
    ------
    InvalidInput
        If the kind is not made in that rating; names the ratings.

    References
    ----------
    sae-j1284; iso-8820-3. From memory.
    """
    for row in _colours(kind):
        if row.rating_a == rating_a:
            return row.colour
    made = ", ".join(f"{each:g}" for each in ratings(kind))
    raise InvalidInput("rating_a", rating_a, f"{kind} fuses are made for {made} A")


def cold_resistance(kind: str, rating_a: float) -> FuseFigure:
    """Return the resistance of a cold fuse, and whether it was interpolated. [ohm]

    Raises
    ------
    InvalidInput
        If there is no such kind or the rating is not above 0.

    Notes
    -----
    A rating without a row is read on the straight line between its neighbours in logarithms of
    rating and resistance, and beyond the last row along the same line.

    References
    ----------
    blade-fuse-sheets; blade-fuse-chart.
    """
    _colours(kind)
    rows = read_rows(PACKAGE, "fuse_resistances", FuseResistance)
    points = [(row.rating_a, row.cold_mohm / 1000) for row in rows if row.kind == kind]
    known = {row.rating_a: row for row in rows if row.kind == kind}
    value = _log_log(points, rating_a)
    if rating_a in known:
        return FuseFigure(value, False, known[rating_a].source, known[rating_a].standing)
    return FuseFigure(value, True, "blade-fuse-sheets: between ratings", "memory")


def cold_resistance_ohm(kind: str, rating_a: float) -> float:
    """Return the resistance of a cold fuse. [ohm] See `cold_resistance`."""
    return cold_resistance(kind, rating_a).value


def resistance_ohm(kind: str, rating_a: float, load_share: float = 0.0) -> float:
    """Return the resistance of a fuse that carries a share of its rating. [ohm]

    Notes
    -----
    Cold resistance times 1 + 0.5 share²: heat grows with the square, and at rated current the
    resistance is 1.5 times the cold one. Not beyond rated current.
    """
    share = min(abs(load_share), 1.0)
    return cold_resistance_ohm(kind, rating_a) * (1 + (HOT_FACTOR - 1) * share**2)


def melting_a2s(kind: str, rating_a: float) -> FuseFigure:
    """Return the typical melting I²t of a fuse. [A² s]

    Few ratings are known: others of the same kind are read in logarithms, flagged; a kind with
    one rating known is scaled by the square of the rating.

    Raises
    ------
    InvalidInput
        If there is no such kind or the rating is not above 0.
    """
    _colours(kind)
    rows = [row for row in read_rows(PACKAGE, "fuse_melting", FuseMelting) if row.kind == kind]
    known = {row.rating_a: row for row in rows}
    value = _log_log([(row.rating_a, row.typical_a2s) for row in rows], rating_a)
    if rating_a in known:
        return FuseFigure(value, False, known[rating_a].source, known[rating_a].standing)
    return FuseFigure(value, True, "blade-fuse-sheets: between ratings", "memory")


def melting_i2t(kind: str, rating_a: float) -> float:
    """Return the typical melting I²t of a fuse. [A² s] See `melting_a2s`."""
    return melting_a2s(kind, rating_a).value


def opening_band(kind: str, ratio: float) -> OpeningBand:
    """Return when a fuse opens at a current, from its published windows. [s]

    Parameters
    ----------
    kind : str
        ``medium``, ``miniature``, ``high-current`` or ``supplementary``.
    ratio : float
        Current over rating, 0 or more, at about 23 °C.

    Raises
    ------
    InvalidInput
        If there is no such kind or the ratio is below 0.

    Notes
    -----
    The published points are acceptance windows, not a curve, so nothing is interpolated. More
    current never opens a fuse later: between two points it opens no later than the window of
    the lower one ends, and no sooner than that of the higher one begins. Under the lowest point
    it holds as long as there; over the highest it may open at once.

    References
    ----------
    iso-8820-3; blade-fuse-sheets; ul-248-14.
    """
    if not ratio >= 0:
        raise InvalidInput("ratio", ratio, "give current over rating, 0 or more")
    rows = [row for row in read_rows(PACKAGE, "fuse_bands", FuseBand) if row.kind == kind]
    if not rows:
        raise InvalidInput("kind", kind, f"use one of {_kind_keys()}, supplementary")
    percent = round(ratio * 100, 9)
    begins = (row.min_s or 0.0 for row in rows if row.percent >= percent)
    ends = [math.inf if row.max_s is None else row.max_s for row in rows if row.percent <= percent]
    return OpeningBand(next(begins, 0.0), ends[-1] if ends else math.inf)


def temperature_factor(ambient_c: float) -> float:
    """Return the factor on the rating of a blade fuse in warm or cold surroundings.

    Notes
    -----
    Before the 75 % rule; never use it together with a sheet's recommended currents, which hold
    both. Straight between the points; the end values beyond -40 and 125 °C are refused.

    Raises
    ------
    InvalidInput
        If the temperature is outside -40 to 125 °C.

    References
    ----------
    blade-fuse-sheets: rerating curve, from memory, checked by 0.91 at 85 °C.
    """
    rows = read_rows(PACKAGE, "fuse_temperatures", FuseTemperature)
    for cold, warm in pairwise(rows):
        if cold.ambient_c <= ambient_c <= warm.ambient_c:
            share = (ambient_c - cold.ambient_c) / (warm.ambient_c - cold.ambient_c)
            return cold.factor + (warm.factor - cold.factor) * share
    raise InvalidInput("ambient_c", ambient_c, "give a temperature from -40 to 125 °C")


def breakers() -> tuple[Breaker, ...]:
    """Return the types of circuit breaker. Their trip times are not tabled: none was found."""
    return read_rows(PACKAGE, "breakers", Breaker)


def _colours(kind: str) -> list[FuseColour]:
    key = fuse_kind(kind).key
    return [row for row in read_rows(PACKAGE, "fuse_colours", FuseColour) if row.kind == key]


def _kind_keys() -> str:
    return ", ".join(row.key for row in fuse_kinds())


def _log_log(points: Iterable[tuple[float, float]], rating_a: float) -> float:
    if not rating_a > 0:
        raise InvalidInput("rating_a", rating_a, "give a rating above 0 A")
    known = sorted(points)
    for at, value in known:
        if at == rating_a:
            return value
    if len(known) == 1:
        return known[0][1] * (rating_a / known[0][0]) ** 2
    above = next((i for i, (at, _) in enumerate(known) if at > rating_a), len(known) - 1)
    (low, low_value), (high, high_value) = known[max(above, 1) - 1 : max(above, 1) + 1]
    slope = math.log(high_value / low_value) / math.log(high / low)
    return float(low_value * (rating_a / low) ** slope)
