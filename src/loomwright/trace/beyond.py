"""Faults beyond any network, and places beyond it: what a kind of fault shows anywhere.

A controller set wrongly, a module that sees no trailer, a worn shoe, a message: no network tells
of these. Here a kind of fault of the catalogue shows what its row says is typical, what its form
does to its circuit, and else what a healthy rig shows. `belief` gives words with their shares.
"""

from __future__ import annotations

from loomwright.trace import beyond_lamps as lamps
from loomwright.trace.beyond_circuits import by_form, healthy
from loomwright.trace.beyond_signs import sign
from loomwright.trace.beyond_ways import Way
from loomwright.trace.beyond_words import Belief, mixed
from loomwright.trace.cases_words import Spot

TYPICAL = 0.75
"""How much of the belief goes to what is typical of a kind, where its row says so."""

ELSEWHERE_KEEPS = {
    "other vehicle": {"vehicle": 0.04, "coupling": 0.45, "trailer": 0.96},
    "bench": {"vehicle": 0.02, "coupling": 0.25, "trailer": 0.96},
    "other trailer": {"vehicle": 0.96, "coupling": 0.5, "trailer": 0.04},
    "other socket": {"vehicle": 0.35, "coupling": 0.35, "trailer": 0.96},
}
"""How likely a fault of each half is still there with the other half exchanged."""


def belief(way: Way, command: str, spot: Spot) -> Belief:
    """Return what a fault shows at a place under a command.

    Parameters
    ----------
    way : Way
        The kind of fault, its circuit and its side.
    command : str
        As `read_command` gives it.
    spot : Spot
        As `read_spot` gives it.

    Returns
    -------
    mapping of str to float
        Words with the share of belief in each; sums to one.
    """
    typical = sign(way, command, spot)
    tell = _here if spot.where == "here" else _elsewhere
    found = tell(way, command, spot)
    if typical is None:
        return found
    return mixed((TYPICAL, typical), (1.0 - TYPICAL, found))


def _here(way: Way, command: str, spot: Spot) -> Belief:
    if spot.part == "lamp":
        named = list(lamps.lamps_at(spot))
        seen = [lamp for lamp in named if lamp in lamps.lit_by(command)] or named
        return lamps.together([lamps.lamp_by_form(way, command, lamp) for lamp in seen])
    found = by_form(way, command, spot)
    return healthy(command, spot) if found is None else found


def _elsewhere(way: Way, command: str, spot: Spot) -> Belief:
    """With another vehicle, trailer or supply in place of this one."""
    keeps = ELSEWHERE_KEEPS[spot.where][way.half]
    if spot.part == "everything":
        return mixed((keeps, {"off": 0.3, "wrong": 0.3, "fault": 0.4}), (1 - keeps, FINE))
    here = Spot(spot.part, spot.name, spot.side)
    return mixed((keeps, _here(way, command, here)), (1.0 - keeps, _fine(command, here)))


FINE: Belief = {"normal": 0.9, "connected": 0.1}


def _fine(command: str, spot: Spot) -> Belief:
    if spot.part == "lamp":
        named = list(lamps.lamps_at(spot))
        seen = [lamp for lamp in named if lamp in lamps.lit_by(command)] or named
        return lamps.together([lamps.healthy_lamp(command, lamp) for lamp in seen])
    return healthy(command, spot)
