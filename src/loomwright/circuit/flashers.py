"""Flashers: what the current of the lit half makes of the beat.

A flasher closes and opens by itself, about once a second. While it is open, its lamps are at
rest; while it is closed, it is a switch, and the network is solved as it stands then. What
tells the driver of a dead lamp is the beat: a flasher that misses current flashes fast, or
stays lit. That is a state: it depends on a current, and jumps.

The beat changes nothing in the lit half. So it is read off last, when fuses, drivers and
devices have come to rest (rule 6 of `states`), and there is one answer wherever those have
one. A fuse that opens takes the current away, and the beat goes with it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from loomwright.circuit.elements import Switch
from loomwright.circuit.network import Case, Network, elements_in
from loomwright.circuit.refusals import need_between
from loomwright.circuit.solution import Solution


class Beat(StrEnum):
    """What a flasher does."""

    AT_REST = "at rest"
    STEADY = "steady"
    NORMAL = "normal"
    FAST = "fast"


@dataclass(frozen=True, slots=True)
class Flasher(Switch):
    """A switch that closes and opens by itself while it is switched on (`closed`).

    Parameters
    ----------
    fast_below_a : float
        Current of the lit half below which it flashes fast, about twice as often: an
        electronic one that counts its lamps. 0 if it does not count them. [A]
    steady_below_a : float
        Current below which its contact never opens, so that what is left stays lit: a thermal
        one that does not heat through. 0 if it always beats. [A]

    Raises
    ------
    InvalidInput
        If a current is below 0, or the second above the first where both are given.

    Notes
    -----
    Both at 0 is the variable-load flasher of vehicles that tow: it beats alike with any lamps,
    and says nothing of a dead one.

    References
    ----------
    FMVSS 108 (49 CFR 571.108) S9.3, from memory: a failed turn signal lamp shows by an indicator
    that is steadily on, steadily off, or flashes at a clearly other rate; not required of a
    variable-load flasher on a vehicle equipped to tow. UN Regulation 48, 6.5.8, from memory: the
    tell-tale goes out, stays alight, or clearly changes its rate.
    """

    fast_below_a: float = 0.0
    steady_below_a: float = 0.0

    def __post_init__(self) -> None:
        Switch.__post_init__(self)
        need_between(f"{self.name}.fast_below_a", self.fast_below_a, 0.0, 1e3)
        most_a = self.fast_below_a or 1e3
        need_between(f"{self.name}.steady_below_a", self.steady_below_a, 0.0, most_a)

    def beat(self, current_a: float) -> Beat:
        """What it does when its lit half takes a current.

        Parameters
        ----------
        current_a : float
            Current through it while it is closed, either way. [A]
        """
        if not self.closed:
            return Beat.AT_REST
        if abs(current_a) < self.steady_below_a:
            return Beat.STEADY
        return Beat.FAST if abs(current_a) < self.fast_below_a else Beat.NORMAL


def beats(network: Network, solution: Solution, case: Case | None = None) -> Mapping[str, Beat]:
    """What every flasher of a network does, by name.

    Parameters
    ----------
    network : Network
        The elements.
    solution : Solution
        The lit half at rest, as `solve` gives it.
    case : Case, optional
        What was changed when it was solved.

    Returns
    -------
    mapping of str to Beat
        Of every `Flasher`.
    """
    return {
        element.name: element.beat(solution.currents_a[element.name])
        for element in elements_in(network, case or Case())
        if isinstance(element, Flasher)
    }
