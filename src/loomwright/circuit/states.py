"""States: what opens by its current, and what drops out for want of voltage.

The balance of currents is unique only while every law increases. What does not is a state
here, outside the balance, settled by these rules:

1. *Draw.* A load of constant power is, at the voltage it finds, a resistance that takes its
   power: conductance P/V^2, or less at its current limit. The draws start at nothing and
   grow until they agree with the voltages; starting from nothing leads to the answer with
   the high voltage, which is the one a load reaches when it is switched on. The input of a
   converter draws what its output gives, over its efficiency. Where they do not agree in
   the end, the one that still grows most goes off as in rule 2.
2. *Dropping out.* Every such device starts on. Those with too little voltage before anything
   is drawn go off together. Then, with the draws, the one farthest below its threshold, as a
   share of it, goes off, and the draws are found anew, until none is below.
3. *Coming back.* A device that is off and finds `on_above_v` comes back, the one farthest
   above first. The second time it would come back, it is left off, and named as one that
   cycles.
4. *Drivers and fuses.* Electronics are faster than fuses, so only then something opens by
   its current, and all is settled again from rule 2, with what is off still off. First a
   driver with too much current, then a fuse: the one whose current is the largest share of
   its opening current, if that share is 1 or more. Last a driver that finds no load, the one
   that finds least. One at a time, so there are at most as many rounds as there are of them.
5. *Coming back by itself.* When nothing more opens, a breaker that closes once it has cooled,
   or a driver that tries again, is closed, the one that opened first; all is settled again.
   If it opens once more it is left open, and named as one that cycles. One may stay closed:
   a slower fuse has taken the fault away meanwhile.
6. *Beat.* A flasher is solved in its lit half. Whether it beats, flashes fast or stays lit is read
   off last, from its current at rest (`flashers`): it changes nothing in that half.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from loomwright.circuit.answers import Asked, Pairs
from loomwright.circuit.batch import Cases, Floats, Whole, numbered
from loomwright.circuit.devices import Which, devices_of, fuses_of, watched
from loomwright.circuit.layout import OPEN_S
from loomwright.circuit.plan import Plan
from loomwright.circuit.settled import Known, Settled
from loomwright.circuit.sweep import Told, sweep

DRAW_TOLERANCE: Final = 1e-10
"""Of a draw, as a share of the largest the device can make."""

QUICK_ROUNDS: Final = 60
PATIENT_ROUNDS: Final = 300


def settle(
    plan: Plan,
    cases: Cases,
    pairs: Pairs,
    into: Settled,
    *,
    first: int = 0,
    known: Known | None = None,
    keeps: bool = True,
    told: Told | None = None,
) -> Rest:
    """Find the state every case comes to rest in, by the rules above.

    Parameters
    ----------
    plan : Plan
        The network compiled.
    cases : Cases
        What to solve: a part of a run, or all of it.
    pairs : int array, shape (pair, 2)
        The node pairs whose voltages are written.
    into : Settled
        Where the answers go.
    first : int
        The first case of the part.
    known : Known, optional
        What `cases.near` counts; from nothing without it.
    keeps : bool
        Whether `Rest.known_now` is to tell the solutions.
    told : callable, optional
        As for `sweep`.
    """
    rest = Rest(plan, cases, pairs, into, first=first, known=known, keeps=keeps)
    rest.begin(told)
    todo = rest.every
    while len(todo):
        rest.settle_devices(todo)
        todo = rest.open_or_close(todo)
    rest.end()
    return rest


class Rest:
    """Cases on their way to rest. Arrays have the shape (device, case) or (fuse, case)."""

    def __init__(
        self,
        plan: Plan,
        cases: Cases,
        pairs: Pairs,
        into: Settled,
        *,
        first: int,
        known: Known | None,
        keeps: bool,
    ) -> None:
        self.plan, self.cases, self.known = plan, cases, known
        self.devices, self.fuses = devices_of(plan), fuses_of(plan)
        self.asked = Asked(pairs, watched(plan), self.fuses.limits)
        part = slice(first, first + len(cases))
        starts_there = known is None or len(self.devices.names) > 0
        count = len(self.asked.states)
        loads = len(plan.layout.loads) if keeps or starts_there else 0
        self.swept = into.swept.part(first, len(cases), count, loads, into.room_of_part)
        self.opened, self.reopening = into.opened[:, part], into.reopening[:, part]
        self.off, self.cycling = into.off[:, part], into.cycling[:, part]
        self.on = ~self.off
        self.draws = np.zeros(self.on.shape)
        self.overloaded = self.tried = self.reopening
        self.closed_v = self.swept.load_v
        self.every = numbered(len(cases))
        self.has_opened = False

    def begin(self, told: Told | None) -> None:
        """Balance every case with its devices off, then switch them on."""
        known_v = None if self.known is None else self.known.closed_v
        sweep(self.plan, self.cases, self.asked, self.swept, known_v=known_v, told=told)

    def end(self) -> None:
        """Note which fuses would close and open for ever, and which devices are off."""
        if self.has_opened:
            self.reopening[:] = (self.opened > 0) & self.tried
        if len(self.on):
            np.logical_not(self.on, out=self.off)

    def known_now(self) -> Known:
        """Return these cases as solutions that others may be near to."""
        return Known(self.closed_v.T.copy("C"), self.swept.load_v.T.copy("C"))

    def settle_devices(self, todo: Which) -> None:
        """Rules 1 to 3."""
        if not len(self.on):
            return
        back = np.zeros_like(self.on)
        self.cycling[:, todo] = False
        while len(todo):
            self._drop_dead(todo)
            failing = self._draw(todo)
            failed = failing >= 0
            self.on[failing[failed], todo[failed]] = False
            stays = todo[~failed]
            share = self._input_v(stays) / self.devices.on_above_v
            share[self.on[:, stays] | self.cycling[:, stays]] = -1.0
            risen = share.max(axis=0) >= 1.0
            best, stays = share.argmax(axis=0)[risen], stays[risen]
            again = back[best, stays]
            self.cycling[best, stays] |= again
            self.on[best, stays] |= ~again
            back[best, stays] = True
            todo = np.concatenate([todo[failed], stays])

    def open_or_close(self, todo: Which) -> Which:
        """Rules 4 and 5: return the cases in which something opened or was closed again."""
        if not len(self.opened):
            return todo[:0]
        called = self.swept.called[todo]
        opening = todo[called]
        if not self.has_opened:
            if not len(opening):
                return opening
            self.overloaded, self.tried = np.zeros((2, *self.opened.shape), dtype=bool)
            self.has_opened = True
        urgency = self._urgency(opening)
        worst = urgency.argmax(axis=0)
        self.overloaded[worst, opening] = urgency.max(axis=0) >= 1.0
        self.opened[worst, opening] = self.opened[:, opening].max(axis=0) + 1
        changed = np.concatenate([opening, self._closed_again(todo[~called])])
        if len(changed) and not len(self.on):
            self._balance(changed, from_rest=True)
        return changed

    def _urgency(self, opening: Which) -> Floats:
        """How much each fuse calls for opening in some cases; not at all if it is open."""
        across_v = self.swept.states_v[len(self.devices.pairs) :, opening]
        fuses = self.fuses
        conductance_s = self.cases.rows_of(opening, fuses.rows, fuses.base_s)
        urgency = fuses.urgency(across_v, conductance_s)
        urgency[self.opened[:, opening] > 0] = 0.0
        return urgency

    def _closed_again(self, todo: Which) -> Which:
        """Close what comes back by itself; return the cases in which something does."""
        if not self.fuses.comes_back.any():
            return todo[:0]
        waiting = (self.opened[:, todo] > 0) & self.overloaded[:, todo] & ~self.tried[:, todo]
        order = np.where(waiting & self.fuses.comes_back, self.opened[:, todo], np.inf)
        closes = np.isfinite(order).any(axis=0)
        first, todo = order.argmin(axis=0)[closes], todo[closes]
        self.opened[first, todo], self.tried[first, todo] = 0, True
        return todo

    def _drop_dead(self, todo: Which) -> None:
        """Put off what has too little voltage even before anything is drawn."""
        while len(todo):
            self.draws[:, todo] = 0.0
            self._balance(todo)
            dead = self.on[:, todo] & (self._input_v(todo) < self.devices.off_below_v)
            self.on[:, todo] &= ~dead
            todo = todo[dead.any(axis=0)]

    def _draw(self, todo: Which) -> Which:
        """Rule 1; the device of each case that cannot stay on, or -1.

        What haste drops, patience must too.
        """
        gap = np.zeros(self.on.shape)
        live = todo[self.on[:, todo].any(axis=0)]
        gap[:, live] = self._agree(live, QUICK_ROUNDS, in_haste=True)
        doubtful = live[gap[:, live].any(axis=0) | (self._lowest(live) >= 0)]
        self.draws[:, doubtful] = 0.0
        gap[:, doubtful] = self._agree(doubtful, PATIENT_ROUNDS, in_haste=False)
        close = doubtful[gap[:, doubtful].any(axis=0) & (self._lowest(doubtful) < 0)]
        gap[:, close] = self._agree(close, QUICK_ROUNDS, in_haste=True)
        failing = self._lowest(todo)
        growing = np.where(self.on[:, todo], gap[:, todo], -np.inf)
        stuck = gap[:, todo].any(axis=0) & (failing < 0)
        return np.where(stuck, growing.argmax(axis=0), failing)

    def _lowest(self, todo: Which) -> Which:
        """The device of each case farthest below its threshold, or -1."""
        share = self._input_v(todo) / self.devices.off_below_v
        share = np.where(self.on[:, todo], share, np.inf)
        return np.where((share < 1.0).any(axis=0), share.argmin(axis=0), -1)

    def _agree(self, todo: Which, rounds: int, *, in_haste: bool) -> Floats:
        """Let draws and voltages follow each other; in haste, by vector Aitken steps.

        Returns how far each draw still wants to move; 0 where all of a case agree.
        """
        gap, asked = np.zeros(self.on.shape), todo
        before = np.zeros(self.on.shape), np.zeros(self.on.shape)
        for done in range(rounds):
            if not len(todo):
                break
            self._balance(todo)
            on, draws = self.on[:, todo], self.draws[:, todo]
            base = self.cases.base[todo]
            wanted = self.devices.wanted(self._input_v(todo), self._output_v(todo), base)
            now = np.where(on, wanted - draws, 0.0)
            far = np.abs(now).max(axis=0) > DRAW_TOLERANCE
            gap[:, todo] = np.where(far, now, 0.0)
            todo, on, now = todo[far], on[:, far], now[:, far]
            draws = wanted = np.where(on, wanted[:, far], 0.0)
            if in_haste and done:
                draws = _aitken(wanted, now, before[0][:, todo], before[1][:, todo])
            self.draws[:, todo] = draws
            before[0][:, todo], before[1][:, todo] = wanted, now
        return gap[:, asked]

    def _input_v(self, todo: Which) -> Floats:
        return self.swept.states_v[: len(self.on), todo]

    def _output_v(self, todo: Which) -> Floats:
        first = len(self.on)
        return self.swept.states_v[first : first + len(self.devices.outputs), todo]

    def _balance(self, todo: Which, *, from_rest: bool = False) -> None:
        """Balance some cases in the state they are in.

        They start from where they are; or where something opened, from where the cases they
        are near to came to rest, if that is known: in these, commonly, the same opened.
        """
        if self.closed_v is self.swept.load_v:
            self.closed_v = self.closed_v.copy()
        cases = self.as_they_are(todo)
        if from_rest and self.known is not None:
            known_v = self.known.rest_v
        else:
            known_v = np.ascontiguousarray(self.swept.load_v[:, todo].T)
            cases = replace(cases, near=_itself(len(todo)))
        sweep(self.plan, cases, self.asked, self.swept, columns=todo, known_v=known_v)

    def as_they_are(self, todo: Which | None = None) -> Cases:
        """Some cases, or all, with fuses open and draws in their rows as they are now."""
        if todo is None:
            if not len(self.on) and not self.has_opened:
                return self.cases
            todo = self.every
        opened, base = self.opened[:, todo] > 0, self.cases.base[todo]
        worn = opened.any(axis=1)
        rows, numbers = self.devices.edits(self.on[:, todo], self.draws[:, todo], base)
        of_devices = np.repeat(np.array(rows, dtype=np.int32)[:, None], len(todo), axis=1)
        of_fuses = np.where(opened[worn], self.fuses.rows[worn, None], -1)
        edits = np.concatenate([numbers, np.full(of_fuses.shape, OPEN_S)])
        return self.cases.take(todo).edited(np.concatenate([of_devices, of_fuses]).T, edits.T)


def _itself(count: int) -> Whole:
    """Each case near to the known solution of its own number."""
    return np.repeat(np.arange(count, dtype=np.int32)[:, None], 3, axis=1)


def _aitken(wanted: Floats, gap: Floats, wanted_before: Floats, gap_before: Floats) -> Floats:
    """Where the last two rounds point to, kept between no draw and the largest."""
    turn = gap - gap_before
    size = (turn * turn).sum(axis=0)
    along = (gap * turn).sum(axis=0)
    share = np.divide(along, size, out=np.zeros_like(size), where=size != 0.0)
    return np.asarray(np.clip(wanted - share * (wanted - wanted_before), 0.0, 1.0))
