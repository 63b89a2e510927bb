"""Conductor sizes: AWG, SAE gauge and square millimetres are three systems, not one.

SAE primary wire of a gauge holds less copper than AWG building or marine wire of the same number,
so the systems are never exchanged silently.

References
----------
ASTM B258 (AWG sizes), SAE J1128 (primary cable), ISO 6722-1 and ISO 19642 (metric road-vehicle
cable), IEC 60228 (metric conductors). The lists of sizes are from memory.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.quantities.numbers import take_number, tidy

WireSystem = Literal["awg", "sae", "mm2"]

AWG_SIZES = (*map(str, range(24, 0, -1)), "1/0", "2/0", "3/0", "4/0")
SAE_SIZES = (*map(str, range(20, 0, -2)), "1", "1/0", "2/0", "3/0", "4/0")
MM2_SIZES = (
    *("0.22", "0.35", "0.5", "0.75", "0.8", "1", "1.25", "1.5", "2", "2.5", "3", "4", "5", "6"),
    *("8", "10", "12", "13", "16", "19", "20", "25", "30", "32", "35", "40", "50", "60", "70"),
    *("95", "120"),
)
SIZES: dict[WireSystem, tuple[str, ...]] = {
    "awg": AWG_SIZES,
    "sae": SAE_SIZES,
    "mm2": MM2_SIZES,
}
SAID: dict[WireSystem, str] = {"awg": "AWG", "sae": "SAE", "mm2": "mm²"}

MOST_KEPT = 1024
"""Texts whose size is kept: a rig names the same few over and over."""

ASK = "write the size with its system, such as 14 AWG, 14 SAE (vehicle primary wire) or 2.5 mm²"
GAUGE = r"(?P<size>\d{1,2}|00|000|0000|[1-9]/0)"
GAUGE_FORMS: tuple[tuple[str, WireSystem], ...] = (
    (rf"#? ?{GAUGE} ?-?(?:ga\.?|gauge)? ?awg", "awg"),
    (rf"awg ?#? ?{GAUGE}", "awg"),
    (rf"#? ?{GAUGE} ?-?(?:sae|ga|ga\.|gauge|gage)(?: sae)?", "sae"),
    (rf"sae ?#? ?{GAUGE}(?: ?(?:ga|ga\.|gauge|gage))?", "sae"),
)
AREA_UNITS = frozenset(
    {
        *("mm2", "mm²", "mm^2", "mm sq", "mm squared", "sq mm", "sqmm", "sq. mm", "qmm"),
        *("square mm", "square millimetre", "square millimetres"),
        *("square millimeter", "square millimeters"),
    }
)


@dataclass(frozen=True, slots=True)
class WireSize:
    """One conductor size of one system; ``str()`` gives ``14 AWG``, ``14 SAE`` or ``2.5 mm²``.

    Parameters
    ----------
    system : {"awg", "sae", "mm2"}
        SAE is vehicle primary wire: less copper than AWG of the same number.
    size : str
        As listed by `wire_sizes`: ``14``, ``1/0``, ``2.5``.

    Raises
    ------
    InvalidInput
        If the system has no such size; names the nearest it has.
    """

    system: WireSystem
    size: str

    def __post_init__(self) -> None:
        if self.system not in SIZES:
            raise InvalidInput("wire_size.system", self.system, f"use one of {', '.join(SIZES)}")
        if self.size not in SIZES[self.system]:
            raise InvalidInput("wire_size", str(self), _nearest(self.system, self.size))

    def __str__(self) -> str:
        return f"{self.size} {SAID[self.system]}"


def wire_sizes(system: WireSystem) -> tuple[WireSize, ...]:
    """Return every size of a system, thinnest first."""
    return tuple(WireSize(system, size) for size in SIZES[system])


@lru_cache(maxsize=MOST_KEPT)
def read_wire_size(text: str, field: str = "wire") -> WireSize:
    """Return a conductor size, e.g. from ``14 AWG``, ``14 ga``, ``#1/0 AWG``, ``2,5 mm2``.

    A plain gauge (``14 ga``, ``14 gauge``) is SAE: what vehicle wire is sold by, and the side with
    less copper.

    Raises
    ------
    InvalidInput
        If the system is missing or unknown, or has no such size; names the nearest sizes.
    """
    plain = tidy(text)
    for form, system in GAUGE_FORMS:
        found = re.fullmatch(form, plain, re.IGNORECASE | re.ASCII)
        if found is not None:
            return _known(system, _gauge(found["size"]), text, field)
    try:
        number = take_number(plain)
    except ValueError as unclear:
        raise InvalidInput(field, text, str(unclear)) from None
    if number is not None and number[2].lower().removesuffix(".") in AREA_UNITS:
        return _known("mm2", f"{number[0]:g}", text, field)
    if number is not None and number[2].lower() == "mm":
        size = f"{number[0]:g} mm²"
        raise InvalidInput(field, text, f"a wire goes by area, not diameter: write {size} if it is")
    raise InvalidInput(field, text, ASK)


def _known(system: WireSystem, size: str, text: str, field: str) -> WireSize:
    if size not in SIZES[system]:
        raise InvalidInput(field, text, _nearest(system, size))
    return WireSize(system, size)


def _gauge(written: str) -> str:
    """Return 2/0 for 00 and 7 for 07."""
    if set(written) == {"0"}:
        return f"{len(written)}/0"
    return written if "/" in written else str(int(written))


def _nearest(system: WireSystem, size: str) -> str:
    thin_to_thick = sorted(SIZES[system], key=lambda known: abs(_rank(known) - _rank(size)))
    nearest = sorted(thin_to_thick[:2], key=SIZES[system].index)
    return f"use a size that is made, the nearest are {' and '.join(nearest)} {SAID[system]}"


def _rank(size: str) -> float:
    """Return a number by which sizes of one system can be compared for nearness."""
    aughts = re.fullmatch(r"(\d)/0", size, re.ASCII)
    if aughts is not None:
        return 1.0 - int(aughts[1])
    try:
        return float(size)
    except ValueError:
        return 0.0
