"""Values with units: read as people write them, kept in SI, shown as people read them.

``read_*`` take text and refuse a bare number, for 12 can be volts, feet or a gauge. ``show_*``
give short text in which a no-break space keeps number and unit together.
"""

from __future__ import annotations

from loomwright.quantities.reading import (
    read_capacity_ah,
    read_current_a,
    read_diameter_mm,
    read_length_m,
    read_mass_kg,
    read_power_w,
    read_resistance_ohm,
    read_share,
    read_temperature_c,
    read_voltage_v,
)
from loomwright.quantities.showing import (
    show_capacity,
    show_current,
    show_diameter,
    show_length,
    show_mass,
    show_power,
    show_resistance,
    show_share,
    show_stretch,
    show_temperature,
    show_voltage,
    unbroken,
)
from loomwright.quantities.units import Units
from loomwright.quantities.wire_size import WireSize, WireSystem, read_wire_size, wire_sizes

__all__ = [
    "Units",
    "WireSize",
    "WireSystem",
    "read_capacity_ah",
    "read_current_a",
    "read_diameter_mm",
    "read_length_m",
    "read_mass_kg",
    "read_power_w",
    "read_resistance_ohm",
    "read_share",
    "read_temperature_c",
    "read_voltage_v",
    "read_wire_size",
    "show_capacity",
    "show_current",
    "show_diameter",
    "show_length",
    "show_mass",
    "show_power",
    "show_resistance",
    "show_share",
    "show_stretch",
    "show_temperature",
    "show_voltage",
    "unbroken",
    "wire_sizes",
]
