"""The entries of a job file: text as a person writes it, checked when read, kept as written.

A value stays the text it was ("19 ft", "GY/BK"): nothing is rounded or respelled when the file is
written back. Each type below refuses text that its reader cannot take, or that no rig can have.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Annotated, cast

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    StrictStr,
    ValidationInfo,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema
from pydantic_core.core_schema import no_info_after_validator_function

from loomwright.colours import read_colour
from loomwright.invalid import InvalidInput
from loomwright.quantities import (
    read_capacity_ah,
    read_current_a,
    read_diameter_mm,
    read_length_m,
    read_mass_kg,
    read_power_w,
    read_resistance_ohm,
    read_share,
    read_voltage_v,
    read_wire_size,
)
from loomwright.rig import known
from loomwright.rig.light_text import read_light_text

LEGEND = "legend"
"""Key of the validation context under which the vehicle's colour legend travels."""

NO_FUSE = "none"
ISO_DATE = re.compile(r"\d{4}(-\d{2}(-\d{2})?)?", re.ASCII)


def checked(read: Callable[[str], object]) -> AfterValidator:
    """Return a validator that has the text read and keeps it as it stands."""

    def check(text: str) -> str:
        read(text)
        return text

    return AfterValidator(check)


def between(
    read: Callable[[str], float], low: float, high: float, says: str, *, more_than_low: bool = False
) -> AfterValidator:
    """Return a validator for a quantity within what a rig can have; `says` names the range."""

    def check(text: str) -> None:
        value = read(text)
        if value > high or value < low or (more_than_low and value == low):
            raise InvalidInput("value", text, f"give {says}")

    return checked(check)


@dataclass(frozen=True, slots=True)
class OneOf:
    """A key or word of a list, which is asked for when needed and stands in the schema."""

    words: Callable[[], Sequence[str]]
    what: str

    def check(self, text: str) -> str:
        """Return the text; raise `InvalidInput` naming the nearest if the list lacks it."""
        if text not in self.words():
            raise InvalidInput(self.what, text, known.advice(text, self.words(), self.what))
        return text

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """Check after the text itself was checked."""
        return no_info_after_validator_function(self.check, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """List the words in the published schema."""
        return handler(schema) | {"enum": list(self.words())}


def _check_fuse(text: str) -> None:
    if text != NO_FUSE:
        read_fuse(text)


def read_fuse(text: str) -> tuple[float, str | None]:
    """Return rating [A] and kind (None: not said) of ``15 A``, ``30 A maxi``.

    Raises
    ------
    InvalidInput
        If it gives no current, one that no fuse has, or a kind that is not known.
    """
    found = re.fullmatch(
        r"\s*(?P<rating>[^a-z]+(?:amps?|amperes?|a))(?:\s+(?P<kind>\S.*))?", text, re.I
    )
    rating_a = read_current_a(found["rating"] if found else text)
    if not 0 < rating_a <= 500:
        raise InvalidInput("fuse", text, "give a fuse rating above 0 and up to 500 A")
    kind = found["kind"] if found else None
    if kind is not None and kind not in known.fuse_kinds():
        raise InvalidInput("fuse", text, known.advice(kind, known.fuse_kinds(), "fuse kind"))
    return rating_a, kind


def _check_vehicle_colour(text: str, info: ValidationInfo) -> str:
    context = cast("dict[str, str | None]", info.context or {})
    read_colour(text, legend=context.get(LEGEND))
    return text


def _date_as_text(value: object) -> object:
    return value.isoformat() if isinstance(value, date) else value


def _check_date(text: str) -> None:
    fix = "write the date as year-month-day, such as 2026-05-14"
    if not ISO_DATE.fullmatch(text):
        raise InvalidInput("date", text, fix)
    try:
        date.fromisoformat(f"{text}-01-01"[:10] if len(text) < 10 else text)
    except ValueError:
        raise InvalidInput("date", text, fix) from None


def _check_name(text: str) -> None:
    if not text.strip() or len(text) > 200 or not text.isprintable():
        raise InvalidInput("name", text, "give a name of 1 to 200 printable signs on one line")


Name = Annotated[StrictStr, checked(_check_name)]
Text = StrictStr
Date = Annotated[
    StrictStr, BeforeValidator(_date_as_text), checked(_check_date), Field(examples=["2026-05-14"])
]

Length = Annotated[
    StrictStr,
    between(read_length_m, 0, 200, "a length of 0 to 200 m"),
    Field(examples=["19 ft", "4 ft 3 in", "5.8 m", "580 cm"]),
]
WireLength = Annotated[
    StrictStr,
    between(read_length_m, 0, 200, "a length above 0 and up to 200 m", more_than_low=True),
    Field(examples=["19 ft", "4 ft 3 in", "5.8 m"]),
]
Extent = Annotated[
    StrictStr,
    between(read_length_m, 0, 40, "a length above 0 and up to 40 m", more_than_low=True),
    Field(examples=["84 in", "2.13 m"]),
]
Diameter = Annotated[
    StrictStr,
    between(read_diameter_mm, 0, 200, "a diameter above 0 and up to 200 mm", more_than_low=True),
    Field(examples=["3/4 in", "20 mm"]),
]
DrumSize = Annotated[
    StrictStr,
    between(read_diameter_mm, 100, 500, "a drum diameter of 4 to 20 in"),
    Field(examples=["10 in", "12 in", "12-1/4 in"]),
]
Current = Annotated[
    StrictStr,
    between(read_current_a, 0, 1000, "a current above 0 and up to 1000 A", more_than_low=True),
    Field(examples=["5 A", "30 mA"]),
]
Voltage = Annotated[
    StrictStr,
    between(read_voltage_v, 1, 60, "a voltage of 1 to 60 V"),
    Field(examples=["12 V", "13.8 V"]),
]
SystemVoltage = Annotated[
    StrictStr,
    between(read_voltage_v, 6, 48, "the system's voltage: 6 V, 12 V or 24 V"),
    Field(examples=["12 V", "24 V"]),
]
Resistance = Annotated[
    StrictStr,
    between(
        read_resistance_ohm, 0, 1e4, "a resistance above 0 and up to 10 kohm", more_than_low=True
    ),
    Field(examples=["12 mohm", "0.05 ohm"]),
]
Power = Annotated[
    StrictStr,
    between(read_power_w, 0, 20_000, "a power above 0 and up to 20 kW", more_than_low=True),
    Field(examples=["150 W"]),
]
Mass = Annotated[
    StrictStr,
    between(read_mass_kg, 0, 100_000, "a mass above 0 and up to 100 t", more_than_low=True),
    Field(examples=["3500 lb", "1600 kg"]),
]
Capacity = Annotated[
    StrictStr,
    between(read_capacity_ah, 0, 2000, "a capacity above 0 and up to 2000 Ah", more_than_low=True),
    Field(examples=["105 Ah", "5 Ah"]),
]
Share = Annotated[StrictStr, checked(read_share), Field(examples=["60 %"])]
ShareAboveZero = Annotated[
    StrictStr,
    between(read_share, 0, 1, "a share above 0 and up to 100 %", more_than_low=True),
    Field(examples=["95 %"]),
]
Size = Annotated[
    StrictStr, checked(read_wire_size), Field(examples=["14 AWG", "14 SAE", "2.5 mm2"])
]
Colour = Annotated[StrictStr, checked(read_colour), Field(examples=["red", "GN/VT", "white/black"])]
VehicleColour = Annotated[
    StrictStr, AfterValidator(_check_vehicle_colour), Field(examples=["GY/BK", "light blue/red"])
]
Fuse = Annotated[StrictStr, checked(_check_fuse), Field(examples=["15 A", "30 A maxi", NO_FUSE])]
Lamp = Annotated[
    StrictStr,
    checked(read_light_text),
    Field(examples=["1157 minor", "P21W", "LED", "LED 0.3 A", "LED 0.3 A constant-current"]),
]

Function = Annotated[StrictStr, OneOf(known.functions, "function")]
Connector = Annotated[StrictStr, OneOf(known.connectors, "connector")]
Convention = Annotated[StrictStr, OneOf(known.conventions_or_unknown, "convention")]
Joint = Annotated[StrictStr, OneOf(known.joints, "joint")]
Insulation = Annotated[StrictStr, OneOf(known.insulations, "insulation")]
LampKind = Annotated[StrictStr, OneOf(known.lamp_kinds, "lamp kind")]
Chemistry = Annotated[StrictStr, OneOf(known.chemistries, "chemistry")]
Legend = Annotated[StrictStr, OneOf(known.legends, "colour legend")]
