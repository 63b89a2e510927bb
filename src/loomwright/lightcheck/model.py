"""The plan of a light check: what to hold, where to look, what must be seen there."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place
from loomwright.observations.word import Word

Where = Literal["cab", "rear", "socket", "hitch", "axle", "battery"]
"""Where a person stands to hold a command or to look."""


@dataclass(frozen=True, slots=True)
class Expectation:
    """What must be seen or read at one place under one command.

    Attributes
    ----------
    key : str
        Its name within the plan: the same rig gives the same keys.
    place : Place
        Where to look or to probe.
    title : str
        The place in the words of the trade: "left rear lamp, stop".
    quantity : Quantity
        What is read there.
    words : tuple of Word
        Words that are right, the usual one first; empty for a number.
    low, nominal, high : float or None
        The band of this rig for a number, in the unit of the quantity.
    plugged : bool
        Whether the trailer is plugged in for it.
    why : str
        What it rests on: "band of 90 % of healthy rigs", "only what must be live is live".
    command : str
        Key of the command it belongs to.
    tester : str
        Key of the tester it is meant for.
    at : str
        Where a person stands to look or to probe.
    least, most : float or None
        Beyond the band a number is doubtful as far as these, and wrong beyond them.
    doubtful : tuple of Word
        Words with which this tester cannot tell.
    note : str
        What to know while looking: "hold the highest reading".
    count : int
        How many equal loads a number is of: brake magnets.
    """

    key: str
    place: Place
    title: str
    quantity: Quantity
    words: tuple[Word, ...] = ()
    low: float | None = None
    nominal: float | None = None
    high: float | None = None
    plugged: bool = True
    why: str = ""
    command: str = ""
    tester: str = "eye"
    at: Where = "rear"
    least: float | None = None
    most: float | None = None
    doubtful: tuple[Word, ...] = ()
    note: str = ""
    count: int = 0

    @property
    def is_dark(self) -> bool:
        """Whether nothing must be there: many such can be answered at once."""
        return self.words == (Word.OFF,) or (self.quantity is Quantity.VOLTS and not self.nominal)


@dataclass(frozen=True, slots=True)
class Step:
    """One command held while everything it shows is looked at.

    `hold` is what the person in the cab does, in their words; `stays` says whether the command
    stays on by itself, so that one person can walk to the rear; `caution` stands where the
    danger is. `walks` are those that one person goes for it, after the step before.
    """

    key: str
    command: str
    hold: str
    stays: bool
    at: Where
    expectations: tuple[Expectation, ...]
    caution: str = ""
    walks: int = 0

    @property
    def lit(self) -> tuple[Expectation, ...]:
        """Where something must be seen or read."""
        return tuple(each for each in self.expectations if not each.is_dark)

    @property
    def dark(self) -> tuple[Expectation, ...]:
        """Where nothing must be: "everything else is off" answers them all."""
        return tuple(each for each in self.expectations if each.is_dark)


@dataclass(frozen=True, slots=True)
class Walks:
    """Walks of one person at a step: behind them, for this step, and still to come after it."""

    done: int
    now: int
    left: int


@dataclass(frozen=True, slots=True)
class Plan:
    """A light check of one rig with one tester; `walks` between cab and rear in this order."""

    rig: str
    tester: str
    people: Literal[1, 2]
    steps: tuple[Step, ...]
    walks: int
    cautions: tuple[str, ...] = ()
    not_tested: tuple[str, ...] = ()

    def walks_at(self, step: Step) -> Walks | None:
        """Return the walks at a step of this plan; None where two work together."""
        if self.people != 1 or not any(each.walks for each in self.steps):
            return None
        done = sum(each.walks for each in self.steps[: self.steps.index(step)])
        return Walks(done, step.walks, self.walks - done - step.walks)

    def expectation(self, key: str) -> Expectation:
        """Return the expectation of this key.

        Raises
        ------
        KeyError
            If there is none.
        """
        for step in self.steps:
            for each in step.expectations:
                if each.key == key:
                    return each
        raise KeyError(key)


class Standing(StrEnum):
    """How an answer stands to what was expected."""

    RIGHT = "right"
    DOUBTFUL = "doubtful"  # the tester cannot tell, or the band is grazed
    WRONG = "wrong"
    USUAL = "normal for this vehicle"
    NOT_TESTED = "not tested"


@dataclass(frozen=True, slots=True)
class Answer:
    """An expectation, what was observed, and what that says.

    `says` is what a wrong reading suggests at once, in one sentence.
    """

    expectation: Expectation
    observation: Observation | None
    standing: Standing
    says: str = ""
