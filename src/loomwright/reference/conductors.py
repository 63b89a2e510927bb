"""Everything about wire in one place: copper, insulation, ampacity, cables.

>>> from loomwright.quantities import WireSize
>>> round(area_mm2(WireSize("awg", "14")), 3), round(area_mm2(WireSize("sae", "14")), 3)
(2.081, 1.876)
"""

from __future__ import annotations

from loomwright.reference.ampacity import ampacity_a, bundle_factor
from loomwright.reference.cables import (
    TrailerCable,
    bundle_diameter_mm,
    trailer_cable,
    trailer_cables,
)
from loomwright.reference.copper import (
    area_mm2,
    awg_diameter_mm,
    circular_mils,
    circular_mils_needed,
    next_size_up,
    resistance_ohm_per_m,
    sizes,
    smallest_by_circular_mils,
)
from loomwright.reference.insulation import (
    InsulationKind,
    insulated_diameter_mm,
    insulation,
    insulations,
    short_circuit_k,
    withstand_a2s,
)

__all__ = [
    "InsulationKind",
    "TrailerCable",
    "ampacity_a",
    "area_mm2",
    "awg_diameter_mm",
    "bundle_diameter_mm",
    "bundle_factor",
    "circular_mils",
    "circular_mils_needed",
    "insulated_diameter_mm",
    "insulation",
    "insulations",
    "next_size_up",
    "resistance_ohm_per_m",
    "short_circuit_k",
    "sizes",
    "smallest_by_circular_mils",
    "trailer_cable",
    "trailer_cables",
    "withstand_a2s",
]
