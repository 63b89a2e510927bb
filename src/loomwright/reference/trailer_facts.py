"""What the rules need to know of a trailer; what is not known stays None."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from loomwright.invalid import InvalidInput

BrakeType = Literal["electric", "electric_over_hydraulic", "surge", "air", "vacuum", "hydraulic"]
TrailerKind = Literal[
    "utility",
    "box",
    "flatbed",
    "boat",
    "livestock",
    "caravan",
    "pole",
    "converter_dolly",
    "living_or_office",
    "agricultural",
]
Unit = Literal["trailer", "tow_vehicle", "both"]
Fact = float | str | bool | frozenset[str]

DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
SIZES = ("width_mm", "length_mm", "gross_mass_kg", "axles", "tow_rating_ratio", "axle_share")


@dataclass(frozen=True, slots=True, kw_only=True)
class TrailerFacts:
    """Facts of a trailer and its tow vehicle, None where not known.

    Parameters
    ----------
    width_mm, length_mm : float, optional
        Overall, rigid fenders and tongue included; flexible fender extensions are not.
    gross_mass_kg : float, optional
        Weight rating in the US, permitted mass in Europe, gross trailer mass in Australia.
    trailer_kind, un_category : str, optional
        Kind of body; O1 to O4.
    built : str, optional
        Date of manufacture, as 2024-05-31.
    braked : bool, optional
        Whether it has service brakes.
    brake_type : str, optional
        Kind of brakes.
    axles : int, optional
        Number of axles.
    commercial : bool, optional
        Whether the combination is a commercial vehicle.
    installer : "business" or "owner", optional
        Who does the work.
    unit : "trailer", "tow_vehicle" or "both"
        What is asked about.
    connector : str, optional
        Short name of the connector.
    has_battery_aboard : bool, optional
        Whether it carries a battery that the vehicle charges.
    lamp_fitted : frozenset of str, optional
        Kinds of optional lamps that are fitted.
    tow_rating_ratio, axle_share : float, optional
        Rating of the trailer over that of the vehicle; axle weight over axle weight.

    Raises
    ------
    InvalidInput
        If a size is not above 0 or the date is not a date.
    """

    width_mm: float | None = None
    length_mm: float | None = None
    gross_mass_kg: float | None = None
    trailer_kind: TrailerKind | None = None
    un_category: Literal["O1", "O2", "O3", "O4"] | None = None
    built: str | None = None
    braked: bool | None = None
    brake_type: BrakeType | None = None
    axles: int | None = None
    commercial: bool | None = None
    installer: Literal["business", "owner"] | None = None
    unit: Unit = "both"
    connector: str | None = None
    has_battery_aboard: bool | None = None
    lamp_fitted: frozenset[str] | None = None
    tow_rating_ratio: float | None = None
    axle_share: float | None = None

    def __post_init__(self) -> None:
        for name in SIZES:
            size = getattr(self, name)
            if size is not None and not size > 0:
                raise InvalidInput(f"trailer.{name}", size, "give a number above 0")
        if self.built is not None and not DATE.fullmatch(self.built):
            raise InvalidInput("trailer.built", self.built, "give the date as 2024-05-31")

    def known(self, fact: str) -> Fact | None:
        """Return one fact, None where it is not known; the unit follows the question."""
        if fact == "unit" and self.unit == "both":
            return frozenset({"trailer", "tow_vehicle"})
        value: Fact | None = getattr(self, fact)
        return value

    def is_about(self, unit: str) -> bool:
        """Whether a rule for this unit concerns the question."""
        return self.unit in ("both", unit)
