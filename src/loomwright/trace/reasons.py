"""Why a suspect ranks where it does: which observation speaks for it, which against."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import PlaceKind
from loomwright.trace.belief import Belief
from loomwright.trace.evidence import chance_of
from loomwright.trace.expecting import expected_words
from loomwright.trace.flow import flow_of
from loomwright.trace.form_words import spoken_name
from loomwright.trace.model import Group, Ranking, Reason
from loomwright.trace.moving import CHANGED, zone_of

if TYPE_CHECKING:
    from loomwright.trace.engine import Trace

CLEAR = 1.6
"""Factor above which an observation clearly speaks for a suspect; its inverse, against."""


def explain(trace: Trace, belief: Belief, ranking: Ranking, count: int) -> Ranking:
    """Add reasons, and how the current flows, to the first groups of a ranking.

    Parameters
    ----------
    trace : Trace
        What it rests on.
    belief : Belief
        After the observations.
    ranking : Ranking
        Without reasons.
    count : int
        How many groups.
    """
    told = tuple(
        replace(group, reasons=_reasons(trace, belief, group, ranking.observations))
        for group in ranking.groups[:count]
    )
    first = replace(told[0], flow=flow_of(trace, told[0])) if told else None
    shown = told if first is None else (first, *told[1:])
    return replace(ranking, groups=(*shown, *ranking.groups[count:]))


def _reasons(
    trace: Trace, belief: Belief, group: Group, observations: tuple[Observation, ...]
) -> tuple[Reason, ...]:
    reasons = []
    for observation in dict.fromkeys(observations):
        factor = _factor(trace, belief, group, observation)
        if factor is None:
            continue
        expected = expected_words(trace, group.best.fault, observation)
        reasons.append(Reason(observation, factor, expected, _says(observation, factor, expected)))
    return tuple(sorted(reasons, key=lambda r: -abs(np.log(r.factor))))


def _factor(trace: Trace, belief: Belief, group: Group, observation: Observation) -> float | None:
    """How much likelier the observation is under this group than under all the rest."""
    inside = outside = within = beyond = 0.0
    number = trace.groups.keys.index((group.side, group.place, group.part, group.form))
    for part, share in zip(belief.parts, belief.shares, strict=True):
        hypotheses = part.hypotheses
        chance = chance_of(hypotheses, observation)
        if chance is None:
            continue
        of_fault = np.append(trace.groups.of_fault[id(hypotheses)], -1)
        belongs = (of_fault[hypotheses.first] == number) | (of_fault[hypotheses.second] == number)
        without = np.where(chance > 0.0, share / chance, 0.0)
        without = without / max(float(without.sum()), 1e-300)
        inside += float((without * chance)[belongs].sum())
        within += float(without[belongs].sum())
        outside += float((without * chance)[~belongs].sum())
        beyond += float(without[~belongs].sum())
    if within <= 0.0 or beyond <= 0.0 or outside <= 0.0:
        return None
    return (inside / within) / (outside / beyond)


def said_of(observation: Observation) -> str:
    """Return an observation as a person says it."""
    where = _where(observation)
    under = f"{observation.command.replace('_', ' ')}: " if observation.command else ""
    if zone_of(observation.place):
        says = "it changes" if observation.word in CHANGED else "nothing changes"
        return f"{under}{where}, {says}"
    if observation.quantity is Quantity.SEEN:
        return f"{under}{where} {observation.word}"
    unit = "ohm" if observation.quantity is Quantity.OHMS else str(observation.quantity)
    return f"{under}{where} {observation.value:g} {unit}"


def _where(observation: Observation) -> str:
    place = observation.place
    if place.kind is PlaceKind.FUSE:
        name = place.name.removeprefix("feed_").removesuffix("_fuse").replace("_", " ")
        return f"{name} fuse"
    return spoken_name(str(place))


def _says(observation: Observation, factor: float, expected: str) -> str:
    said = said_of(observation)
    if factor >= CLEAR:
        return f"{said}: speaks for it" + (f" ({expected} expected)" if expected else "")
    if factor <= 1.0 / CLEAR:
        return f"{said}: speaks against it" + (f" ({expected} expected)" if expected else "")
    kind = observation.place.kind
    word = "goes with it" if kind in (PlaceKind.HISTORY, PlaceKind.ELSEWHERE) else "as with others"
    return f"{said}: {word}"
