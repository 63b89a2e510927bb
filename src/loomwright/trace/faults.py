"""Every fault this rig may have, drawn up from its own network."""

from __future__ import annotations

from loomwright.electrics.wiring import Wiring
from loomwright.rig.model import Rig
from loomwright.trace.bench import make_bench
from loomwright.trace.drafting import Plant, weigh
from loomwright.trace.faults_between import between_faults
from loomwright.trace.faults_series import load_faults, series_faults
from loomwright.trace.faults_whole import logic_faults, whole_faults
from loomwright.trace.model import RigFault


def faults_of(rig: Rig) -> tuple[RigFault, ...]:
    """Return the faults a rig may have, each with its weight.

    Parameters
    ----------
    rig : Rig
        The rig.
    """
    return faults_in(make_bench(rig).wiring)


def faults_in(wiring: Wiring) -> tuple[RigFault, ...]:
    """Return the faults of a rig whose network is at hand.

    Parameters
    ----------
    wiring : Wiring
        The rig as a network, with drivers where there is electronics.
    """
    plant = Plant(wiring)
    return weigh(
        (
            *series_faults(plant),
            *load_faults(plant),
            *between_faults(plant),
            *whole_faults(plant),
            *logic_faults(plant),
        )
    )
