"""Ohms between two points with the power off and the plug out: a tester's own small current.

The network is the rig's with its supply taken out and every switch open, as `rest` without a
trailer leaves it; the tester is a source of 0.2 V behind 100 ohm, too little to light or to
heat a filament, so a cold one shows its cold resistance.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from loomwright.circuit import ConstantPower, Element, Network, Source, Transformed
from loomwright.circuit.study import Study
from loomwright.electrics.cases import case_for
from loomwright.electrics.vehicle_side import SUPPLY
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.simulate import Floats
from loomwright.trace.unplugged import changes_of, solved_volts

TESTER: Final = "ohm_tester"
TEST_V: Final = 0.2
TEST_OHM: Final = 100.0
OPEN_OHM: Final = 1e6


def ohms_between(hypotheses: Hypotheses, points: tuple[str, str]) -> Floats:
    """Return what an ohmmeter shows between two nodes, for every hypothesis. [ohm]

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    points : tuple of str
        The two nodes.
    """
    key = ("ohms", points)
    known = hypotheses.memory.get(key)
    if isinstance(known, np.ndarray):
        return known
    bench = hypotheses.field.bench
    a, b = points
    tester = Source(TESTER, a, b, TEST_V, TEST_OHM)
    network = Network([*map(_dead, bench.wiring.network.elements), tester])
    wiring = replace(bench.wiring, network=network)
    rest = next(each for each in bench.commands if each.key == "rest")
    off = case_for(wiring, rest, plugged=False)
    off = replace(off, closed=dict.fromkeys(off.closed, False), emf_v={})
    changes, numbers = changes_of(hypotheses)
    single = list(dict.fromkeys(fault for each in changes for fault in each))
    study = Study(network, (off,), single)
    volts = solved_volts(study, changes, single, points, loose_too=True)
    current_a = np.maximum((TEST_V - volts) / TEST_OHM, 1e-12)
    found = np.minimum(np.maximum(volts, 0.0) / current_a, OPEN_OHM)[numbers]
    hypotheses.memory[key] = found
    return found


def _dead(element: Element) -> Element:
    """An element with the power off."""
    match element:
        case Source(name=name) if name == SUPPLY:
            return replace(element, emf_v=0.0, resistance_ohm=1e9)
        case Source():
            return replace(element, emf_v=0.0)
        case ConstantPower():
            return replace(element, power_w=0.0)
        case Transformed():
            return element
        case _:
            return element
