"""Self test: faults put into random rigs, told by a person who errs, and found again or not.

    report = self_test(rigs=40, faults=60, seed=1)

Whether a fault is found is judged by the very part and form (`part`), by what the lamps could
tell at all (`alike`: any fault with which every lamp and brake could have shown the same on that
very walk), by kind of place, and by side. What comes and goes is judged once more by those
faults alone that come and go as well (`same_kind`): the walk tells that only if the fault was
there at one look and gone at another.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loomwright.trace.engine import Trace
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.selftest_person import WALK, Person, Walk, looked_at
from loomwright.trace.typical import TypicalRig, one_rig

SHOWS = 0.4
"""Change of light, as a share of rated or of what it was, that makes a fault worth telling."""

SAME = 0.01
"""Difference in light, as a share of rated, that no eye can tell."""

WALKS = 8
"""So often a person walks round until the fault is seen."""

MANY = 31
"""So many different rigs stand for each connector."""

BINS = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0)


@dataclass(frozen=True, slots=True)
class Found:
    """How one fault came out: its ranks, and what was believed of the first.

    Ranks count from 1. `believed` is the probability of the group ranked first, `right` whether
    it was the very one; `believed_alike` that of the set of groups that no lamp can tell from
    the first, `right_alike` whether the fault is in it.
    """

    place: str
    form: str
    rank_part: int
    rank_alike: int
    rank_same_kind: int
    rank_place: int
    rank_side: int
    believed: float
    right: bool
    believed_alike: float
    right_alike: bool


@dataclass(frozen=True, slots=True)
class SelfTest:
    """What a self test found."""

    found: tuple[Found, ...]
    rigs: int
    seed: int

    def share(self, what: str, first: int) -> float:
        """Return the share of faults ranked among the first so many.

        Parameters
        ----------
        what : str
            ``part``, ``alike``, ``same_kind``, ``place`` or ``side``.
        first : int
            How many.
        """
        ranks = [getattr(each, f"rank_{what}") for each in self.found]
        return float(np.mean([0 < rank <= first for rank in ranks]))

    def calibration(self) -> tuple[tuple[float, float, int], ...]:
        """Return for each tenth of belief in the first: mean belief, share right, how many."""
        said = np.array([each.believed_alike for each in self.found])
        right = np.array([each.right_alike for each in self.found], dtype=float)
        bins = np.clip(np.digitize(said, BINS) - 1, 0, len(BINS) - 2)
        return tuple(
            (float(said[bins == n].mean()), float(right[bins == n].mean()), int((bins == n).sum()))
            for n in range(len(BINS) - 1)
            if (bins == n).any()
        )

    def miscalibration(self) -> float:
        """Return how far belief and share are apart on average, weighted by how many."""
        table = self.calibration()
        total = sum(count for *_, count in table)
        return sum(abs(said - share) * count for said, share, count in table) / total

    def by_form(self, what: str = "alike") -> dict[str, tuple[float, int]]:
        """Return for each form the share among the first three, and how many.

        Parameters
        ----------
        what : str
            As for `share`.
        """
        forms = sorted({each.form for each in self.found})
        table = {}
        for form in forms:
            ranks = [getattr(each, f"rank_{what}") for each in self.found if each.form == form]
            table[form] = (float(np.mean([rank <= 3 for rank in ranks])), len(ranks))
        return table


def random_rigs(count: int, chance: np.random.Generator) -> Iterator[TypicalRig]:
    """Yield typical rigs at random: connector, lamps, brakes, feed, length as they fall."""
    for _ in range(count):
        connector = str(
            chance.choice(["7-way", "4-flat", "13-pin", "7-flat"], p=[0.5, 0.3, 0.1, 0.1])
        )
        yield one_rig({"connector": connector}, int(chance.integers(MANY)), MANY)


def self_test(rigs: int, faults: int, seed: int) -> SelfTest:
    """Put faults into random rigs and see how they are found.

    Parameters
    ----------
    rigs : int
        How many rigs.
    faults : int
        How many faults in each, drawn as often as they are thought to be usual.
    seed : int
        The same seed gives the same test.
    """
    chance = np.random.default_rng(seed)
    found: list[Found] = []
    for typical in random_rigs(rigs, chance):
        trace = Trace(((typical.rig, 1.0),))
        found += [_find(trace, truth, chance) for truth in draw_faults(trace, faults, chance)]
    return SelfTest(tuple(found), rigs, seed)


def draw_faults(trace: Trace, count: int, chance: np.random.Generator) -> Sequence[int]:
    """Return numbers of hypotheses of a rig that a walk round could show, by their weight."""
    (hypotheses,) = trace.singles
    seen = shows(hypotheses)
    weight = np.where(seen & (hypotheses.first >= 0), hypotheses.weight, 0.0)
    return [int(n) for n in chance.choice(len(weight), count, p=weight / weight.sum())]


def shows(hypotheses: Hypotheses) -> NDArray[np.bool_]:
    """Return which hypotheses a walk round could show at all."""
    bench = hypotheses.field.bench
    keys = [key for key in (*WALK, "brake_lever") if bench.has(key)]
    light = _light(hypotheses, [bench.number(key) for key in keys])
    change = np.abs(light - light[0]) > SHOWS * np.maximum(light[0], 0.1)
    return np.asarray(change.any(axis=(1, 2))[hypotheses.variant])


def _find(trace: Trace, truth: int, chance: np.random.Generator) -> Found:
    (hypotheses,) = trace.singles
    walk = walk_that_shows(hypotheses, truth, chance)
    belief = trace.believe(walk.told)
    share = trace.groups.share(belief)
    group = trace.groups.of_fault[id(hypotheses)]
    fault = hypotheses.faults[int(hypotheses.first[truth])]
    mine = int(group[hypotheses.first[truth]])
    alike = alike_on(hypotheses, walk, truth)
    same_kind = alike & (hypotheses.loose == hypotheses.loose[truth])
    order = np.argsort(-share, kind="stable")
    place_of = np.array([each.place for each in trace.groups.faults])
    side_of = np.array([each.side for each in trace.groups.faults])
    best = _likeliest(hypotheses, belief.shares[0], group, int(order[0]))
    first = np.unique(group[hypotheses.first[alike_on(hypotheses, walk, best)]])
    return Found(
        fault.place,
        fault.form,
        1 + int(np.flatnonzero(order == mine)[0]),
        _first(order, group[hypotheses.first[alike]]),
        _first(order, group[hypotheses.first[same_kind]]),
        _rank(place_of, share, fault.place),
        _rank(side_of, share, fault.side),
        float(share[order[0]]),
        bool(order[0] == mine),
        float(min(share[first].sum(), 1.0)),
        bool(np.isin(mine, first)),
    )


def walk_that_shows(hypotheses: Hypotheses, truth: int, chance: np.random.Generator) -> Walk:
    """Return a walk round on which the fault was there at least once, if it may be at all.

    Nobody looks for a fault that nobody saw: where it never was there, they walk again.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    truth : int
        Number of what is the case.
    chance : Generator
        Where chance comes from.
    """
    person = Person(chance)
    for _ in range(WALKS):
        walk = person.walks_round(hypotheses, truth)
        if was_there(hypotheses, walk):
            break
    return walk


def was_there(hypotheses: Hypotheses, walk: Walk) -> bool:
    """Whether some lamp or brake showed the fault on a walk."""
    light = _light(hypotheses, [command for command, _ in walk.moments])
    seen = np.stack([light[variant, n] for n, (_, variant) in enumerate(walk.moments)])
    sound = light[0]
    return bool((np.abs(seen - sound) > SHOWS * np.maximum(sound, 0.1)).any())


def was_gone(hypotheses: Hypotheses, walk: Walk, truth: int) -> bool:
    """Whether the fault was gone at some look at which it would have shown."""
    light = _light(hypotheses, [command for command, _ in walk.moments])
    there, sound = light[int(hypotheses.variant[truth])], light[0]
    shows = (np.abs(there - sound) > SHOWS * np.maximum(sound, 0.1)).any(axis=1)
    gone = np.array([variant == 0 for _, variant in walk.moments])
    return bool((shows & gone).any())


def alike_on(hypotheses: Hypotheses, walk: Walk, one: int) -> NDArray[np.bool_]:
    """Return which hypotheses could have shown on a walk what this one would have.

    What comes and goes could at each look have been there or gone. Of a hypothesis that was not
    the case, each look is taken as the walk had it: there, or gone.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    walk : Walk
        The walk.
    one : int
        Number of the hypothesis.
    """
    light = _light(hypotheses, [command for command, _ in walk.moments])
    is_loose = bool(hypotheses.loose[one])
    variant = int(hypotheses.variant[one])
    looks = [variant if was or not is_loose else 0 for _, was in walk.moments]
    seen = np.stack([light[of, n] for n, of in enumerate(looks)])
    there = np.abs(light - seen).max(axis=2) < SAME
    gone = there | there[0]
    each = np.where(hypotheses.loose[:, None], gone[hypotheses.variant], there[hypotheses.variant])
    return np.asarray(each.all(axis=1) & (hypotheses.first >= 0))


def _light(hypotheses: Hypotheses, commands: Sequence[int]) -> NDArray[np.float32]:
    """What is looked at under some commands gives, (variant, look, load); 0 for all else."""
    solved = hypotheses.field
    light = np.zeros((len(solved.light), len(commands), solved.light.shape[2]), dtype=np.float32)
    for n, command in enumerate(commands):
        loads = looked_at(solved.bench, command)
        light[:, n, loads] = solved.light[:, command, loads]
    return light


def _first(order: NDArray[np.intp], groups: NDArray[np.intp]) -> int:
    """Rank of the first of some groups; the last of all where there is none."""
    found = np.flatnonzero(np.isin(order, groups))
    return 1 + int(found[0]) if len(found) else len(order)


def _likeliest(
    hypotheses: Hypotheses, share: NDArray[np.float64], group: NDArray[np.intp], which: int
) -> int:
    """Number of the likeliest hypothesis of a group."""
    members = np.flatnonzero((hypotheses.first >= 0) & (group[hypotheses.first] == which))
    return int(members[int(np.argmax(share[members]))])


def _rank(names: NDArray[np.str_], share: NDArray[np.float64], mine: str) -> int:
    sums = {str(name): float(share[names == name].sum()) for name in np.unique(names)}
    ranked = sorted(sums, key=lambda name: -sums[name])
    return 1 + ranked.index(mine)
