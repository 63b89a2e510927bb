"""Working out the plan of a check in the background, with progress where it takes long."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Event, Lock, Thread
from typing import TYPE_CHECKING, Literal

from loomwright.circuit.progress import Progress
from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Plan
from loomwright.rig.model import Rig

if TYPE_CHECKING:
    from loomwright.lightcheck.solo import Alone

MOST_KEPT = 16
SOON_S = 0.5
"""A plan that is there by then needs no page that waits."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What a plan is wanted for.

    Attributes
    ----------
    tester : str
        Keys of testers, joined by ``+``.
    people : {1, 2}
        How many do it.
    engine : {"off", "running"}
        Whether the engine runs meanwhile.
    socket : str
        The socket that is tested with the plug out; "" for the one the trailer plugs into.
    prop, wall : bool
        For one person: a prop for the pedal; a wall in which the lamps are seen from the cab.
    fob : tuple of str
        Commands the key fob gives from anywhere.
    pedal_s : int
        How long the vehicle itself keeps the stop lamps on; 0 if it does not. [s]
    """

    tester: str
    people: Literal[1, 2] = 2
    engine: Literal["off", "running"] = "off"
    socket: str = ""
    prop: bool = True
    wall: bool = False
    fob: tuple[str, ...] = ()
    pedal_s: int = 0


@dataclass(slots=True)
class Planning:
    """A plan that is being worked out."""

    done: int = 0
    total: int = 0
    plan: Plan | None = None
    problem: Exception | None = None
    ready: Event = field(default_factory=Event)

    @property
    def has_failed(self) -> bool:
        """Whether there will be no plan."""
        return self.ready.is_set() and self.plan is None

    def note(self, done: int, total: int) -> None:
        """Take note of how far it has come."""
        self.done, self.total = done, total

    def result(self) -> Plan:
        """Return the plan, once it is ready.

        Raises
        ------
        InvalidInput, ExceptionGroup
            If it was refused.
        """
        if self.problem is not None:
            raise self.problem
        if self.plan is None:
            raise RuntimeError("there is no plan: the work on it failed")
        return self.plan


Make = Callable[[Rig, Wish, Progress], Plan]


def make_plan(rig: Rig, wish: Wish, progress: Progress) -> Plan:
    """Return the plan that is wished for.

    Parameters
    ----------
    rig : Rig
        The rig.
    wish : Wish
        Tester, people, engine, socket.
    progress : callable
        Told how many cases of how many are done.

    Raises
    ------
    InvalidInput, ExceptionGroup
        If there is no such tester or socket.
    """
    from loomwright.lightcheck.plan import plan_for
    from loomwright.lightcheck.setting import Setting

    return plan_for(
        rig,
        wish.tester,
        wish.people,
        setting=Setting(engine=wish.engine),
        socket=wish.socket or None,
        alone=_alone(wish) if wish.people == 1 else None,
        progress=progress,
    )


def _alone(wish: Wish) -> Alone:
    from loomwright.lightcheck.solo import Alone

    timed = {"brake_pedal": wish.pedal_s} if wish.pedal_s else {}
    return Alone(prop=wish.prop, wall=wish.wall, fob=wish.fob, timed_s=timed)


@dataclass(slots=True)
class Plans:
    """The plans worked out last, by the text of the rig and what was wished for."""

    make: Make = make_plan
    lock: Lock = field(default_factory=Lock)
    kept: OrderedDict[tuple[str, Wish], Planning] = field(default_factory=OrderedDict)

    def wanted(self, text: str, rig: Rig, wish: Wish) -> Planning:
        """Return a plan, or the work on it; waits a moment for a quick one.

        Parameters
        ----------
        text : str
            The rig's job file, by which its plans are kept.
        rig : Rig
            The rig.
        wish : Wish
            Tester, people, engine, socket.
        """
        with self.lock:
            planning = self.kept.get((text, wish))
            if planning is None or planning.has_failed:
                planning = self.kept[text, wish] = Planning()
                Thread(target=self._work, args=(planning, rig, wish), daemon=True).start()
            self.kept.move_to_end((text, wish))
            if len(self.kept) > MOST_KEPT:
                self.kept.popitem(last=False)
        planning.ready.wait(SOON_S)
        return planning

    def _work(self, planning: Planning, rig: Rig, wish: Wish) -> None:
        try:
            planning.plan = self.make(rig, wish, planning.note)
        except (InvalidInput, ExceptionGroup) as refused:
            planning.problem = refused
        finally:
            planning.ready.set()
