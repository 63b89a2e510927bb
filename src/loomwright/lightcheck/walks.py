"""The order of looks in which one person walks least between cab and rear, found exactly.

A person holds one command at a time. It is set in the cab; what the key fob gives is set from
anywhere, with the key out. Whoever stands where a look belongs, with the right command on and
the plug as the look wants it, takes it at no cost. So the cost is walks first, changes of the
plug second, and the order of the trade third.

Commands that are set alike and want the same looks cost the same: the search runs over how
many of each kind are left, not over which, and so stays exact and small.
"""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

Zone = Literal["cab", "rear"]
SetFrom = Literal["base", "cab", "anywhere"]
"""What is so with nothing on; what is set in the cab; what the key fob sets from anywhere."""


class Look(NamedTuple):
    """A look at what one command shows, from one place, with the plug in or out."""

    zone: Zone
    plugged: bool


@dataclass(frozen=True, slots=True)
class Job:
    """One command with all its looks."""

    key: str
    set_from: SetFrom
    looks: frozenset[Look]


class Visit(NamedTuple):
    """One look of one command, as it comes in the order."""

    job: str
    look: Look


class Cost(NamedTuple):
    """What an order costs, gravest first."""

    walks: int = 0
    plugs: int = 0
    out_of_order: int = 0


@dataclass(frozen=True, slots=True)
class Order:
    """An order of looks, and what it costs; `walked` so far when each of the looks is taken."""

    visits: tuple[Visit, ...]
    walks: int
    plugs: int
    walked: tuple[int, ...]


BASE: Final = -1
"""Number of the command that is on when nothing is."""


class _At(NamedTuple):
    """Where a search stands: looks left of every job, who holds what, where, plug in or not."""

    left: tuple[frozenset[Look], ...]
    on: int
    zone: Zone
    plugged: bool


def best_order(jobs: Sequence[Job], *, plugged: bool = False) -> Order:
    """Return the order with the fewest walks, then the fewest changes of the plug.

    Parameters
    ----------
    jobs : sequence of Job
        In the order of the trade. One that is `base` is on when nothing is.
    plugged : bool
        Whether the plug is in at the start. The person starts at the rear with everything off,
        and ends with everything off.
    """
    return _Search(tuple(jobs)).best(plugged=plugged)


def cost_of(jobs: Sequence[Job], visits: Sequence[Visit], *, plugged: bool = False) -> Order:
    """Return what an order costs that somebody else has thought of.

    Parameters
    ----------
    jobs : sequence of Job
        The commands.
    visits : sequence of Visit
        Every look, in that order; each is gone to in the straightest way.
    plugged : bool
        Whether the plug is in at the start.
    """
    how = {each.key: each.set_from for each in jobs}
    walks = plugs = 0
    zone: Zone = "rear"
    on, in_now = "", plugged
    walked: list[int] = []
    for visit in visits:
        if zone == "rear" and visit.look.plugged != in_now:
            plugs, in_now = plugs + 1, visit.look.plugged
        wanted = "" if how[visit.job] == "base" else visit.job
        if wanted != on:
            if not _sets_here(how, on, wanted, zone):
                walks, zone = walks + 1, "cab"
            on = wanted
        if visit.look.plugged != in_now:
            walks, zone = walks + 1, "rear"
            plugs, in_now = plugs + 1, visit.look.plugged
        if zone != visit.look.zone:
            walks, zone = walks + 1, visit.look.zone
        walked.append(walks)
    if on and how[on] == "cab" and zone == "rear":
        walks += 1
    return Order(tuple(visits), walks, plugs, tuple(walked))


def _sets_here(how: Mapping[str, SetFrom], on: str, wanted: str, zone: Zone) -> bool:
    """Whether a command can be set without going to the cab first."""
    if zone == "cab":
        return True
    key_is_out = not on or how[on] == "anywhere"
    return key_is_out and (not wanted or how[wanted] == "anywhere")


@dataclass(frozen=True, slots=True)
class _Search:
    """Best first over what is left (A*, Hart, Nilsson and Raphael 1968); see the head."""

    jobs: tuple[Job, ...]

    @property
    def base(self) -> frozenset[int]:
        """Numbers of the jobs that are on when nothing is."""
        return frozenset(n for n, each in enumerate(self.jobs) if each.set_from == "base")

    def best(self, *, plugged: bool) -> Order:
        """Return the best order."""
        start = _At(tuple(each.looks for each in self.jobs), BASE, "rear", plugged)
        start, first = self._look(start)
        spent: dict[Hashable, Cost] = {self._alike(start): Cost()}
        came: dict[_At, tuple[_At | None, tuple[Visit, ...]]] = {start: (None, first)}
        heap = [(self._least(start), 0, Cost(), start)]
        tried = 0
        while heap:
            _, _, cost, at = heapq.heappop(heap)
            if cost > spent[self._alike(at)]:
                continue
            if self._is_done(at):
                return _order(came, at, cost)
            for more, there in self._moves(at):
                landed, looked = self._look(there)
                total = _sum(cost, more)
                known = self._alike(landed)
                if known in spent and spent[known] <= total:
                    continue
                spent[known] = total
                came[landed] = (at, looked)
                tried += 1
                heapq.heappush(heap, (_sum(total, self._least(landed)), tried, total, landed))
        raise AssertionError("a look that can never be taken")

    def _least(self, at: _At) -> Cost:
        """Return what is still to be paid at the least.

        A command that is set in the cab and shows something at the rear takes a walk to the
        rear, and one back before the next is set or all is switched off; if it wants the plug
        both ways, it is changed once while it is on, or the person comes again, which is more.
        """
        rear = [{look.plugged for look in looks if look.zone == "rear"} for looks in at.left]
        ahead = [
            n for n, job in enumerate(self.jobs) if job.set_from == "cab" and rear[n] and n != at.on
        ]
        walks, plugs = 2 * len(ahead), sum(1 for n in ahead if len(rear[n]) == 2)
        held = at.on != BASE and self.jobs[at.on].set_from == "cab"
        if held and rear[at.on]:
            at_seat = at.zone == "cab"  # from there it may as well be set again later
            walks += 2 if at_seat else 0
            plugs += len(rear[at.on]) == 2 if at_seat else (not at.plugged) in rear[at.on]
        if at.zone == "rear" and (ahead or held):
            walks += 1
        return Cost(walks, plugs)

    def _is_done(self, at: _At) -> bool:
        off = at.on == BASE or self.jobs[at.on].set_from == "anywhere"
        return off and not any(at.left)

    def _alike(self, at: _At) -> Hashable:
        """Return what all states have in common that differ only in which job is which."""
        kinds = Counter(self._kind(at, number) for number in range(len(self.jobs)))
        on = None if at.on == BASE else self._kind(at, at.on)
        return frozenset(kinds.items()), on, at.zone, at.plugged

    def _kind(self, at: _At, number: int) -> tuple[SetFrom, frozenset[Look]]:
        return self.jobs[number].set_from, at.left[number]

    def _moves(self, at: _At) -> Iterator[tuple[Cost, _At]]:
        other: Zone = "rear" if at.zone == "cab" else "cab"
        yield Cost(walks=1), at._replace(zone=other)
        if at.zone == "rear":
            yield Cost(plugs=1), at._replace(plugged=not at.plugged)
        if at.on != BASE and (at.zone == "cab" or self.jobs[at.on].set_from == "anywhere"):
            yield Cost(), at._replace(on=BASE)
        for number in self._next(at):
            passed = sum(1 for n in range(number) if at.left[n] and n not in self.base)
            yield Cost(out_of_order=passed), at._replace(on=number)

    def _next(self, at: _At) -> Iterator[int]:
        """Jobs that may be set here, only the first of each kind that is left."""
        key_is_out = at.on == BASE or self.jobs[at.on].set_from == "anywhere"
        seen: set[tuple[SetFrom, frozenset[Look]]] = set()
        for number, job in enumerate(self.jobs):
            kind = self._kind(at, number)
            if number == at.on or not at.left[number] or job.set_from == "base" or kind in seen:
                continue
            seen.add(kind)
            if at.zone == "cab" or (key_is_out and job.set_from == "anywhere"):
                yield number

    def _look(self, at: _At) -> tuple[_At, tuple[Visit, ...]]:
        """Take every look that is to be had where the person stands."""
        here = Look(at.zone, at.plugged)
        on = self.base if at.on == BASE else {at.on}
        taken = sorted(n for n in on if here in at.left[n])
        left = tuple(looks - {here} if n in taken else looks for n, looks in enumerate(at.left))
        return at._replace(left=left), tuple(Visit(self.jobs[n].key, here) for n in taken)


def _sum(one: Cost, other: Cost) -> Cost:
    return Cost(*(a + b for a, b in zip(one, other, strict=True)))


def _order(came: Mapping[_At, tuple[_At | None, tuple[Visit, ...]]], end: _At, cost: Cost) -> Order:
    way: list[tuple[_At, tuple[Visit, ...]]] = []
    at: _At | None = end
    while at is not None:
        before, seen = came[at]
        way.append((at, seen))
        at = before
    visits: list[Visit] = []
    walked: list[int] = []
    walks, zone = 0, way[-1][0].zone
    for there, seen in reversed(way):
        walks, zone = walks + (there.zone != zone), there.zone
        visits += seen
        walked += [walks] * len(seen)
    return Order(tuple(visits), cost.walks, cost.plugs, tuple(walked))
