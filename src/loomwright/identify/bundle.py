"""The bundle to identify: its wires, what may be among them, and what is known of the vehicle."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loomwright.colours import Colour
from loomwright.identify.behaviour import (
    NOT_FEEDS,
    Feeding,
    FunctionRow,
    Signalling,
    function_rows,
)
from loomwright.identify.commands import COMMANDS, Command
from loomwright.identify.seen import Tester
from loomwright.invalid import InvalidInput, raise_all

MOST_WIRES = 24
MOST_FUNCTIONS = 13
"""More functions that stand once each than this would make the exact sums slow."""

LONGEST_KEY = 40
WRONG_RATE = 0.02
COLOUR_WEIGHT = 1.0
SURE = 0.99
ALL_COMMANDS = tuple(each.key for each in COMMANDS)
ALL_TESTERS = (Tester.METER, Tester.LAMP)


@dataclass(frozen=True, slots=True)
class Wire:
    """One wire; `key` is what is written on its tag."""

    key: str
    colour: Colour | None = None
    size: str = ""


@dataclass(frozen=True, slots=True)
class Bundle:
    """Wires whose functions are unknown.

    Parameters
    ----------
    wires : tuple of Wire
        The wires.
    functions : tuple of str
        Function ids that may be among them; each wire may also carry nothing, or be a wire to
        leave alone.
    several : tuple of str
        Those of the functions that more than one wire may have.
    signalling, feeding : Signalling or Feeding, optional
        What is known of the vehicle; both ways are kept open if not given.
    nominal_v : float
        Nominal supply, 12 or 24. [V]
    at_socket : bool
        Whether the wires are the contacts of a trailer socket: every one is then made to carry
        a load. Loose wires of a vehicle are not.
    testers : tuple of Tester
        What there is to probe with.
    helper : bool
        Whether somebody else sits in the cab.
    commands : tuple of str
        Keys of the commands that this vehicle has.
    wrong_rate : float
        Share of readings that are wrong, whatever the reason.
    colour_weight : float
        How much a habit of colours counts before anything is read: 0 ignores colours; with 1
        it makes a function at most twice as likely.
    sure : float
        Probability from which a wire counts as known.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every value that cannot be used.
    """

    wires: tuple[Wire, ...]
    functions: tuple[str, ...]
    several: tuple[str, ...] = ("ground",)
    signalling: Signalling | None = None
    feeding: Feeding | None = None
    nominal_v: float = 12.0
    at_socket: bool = False
    testers: tuple[Tester, ...] = ALL_TESTERS
    helper: bool = True
    commands: tuple[str, ...] = ALL_COMMANDS
    wrong_rate: float = WRONG_RATE
    colour_weight: float = COLOUR_WEIGHT
    sure: float = SURE

    def __post_init__(self) -> None:
        problems = [
            *_wrong_wires(self.wires),
            *_wrong_functions(self),
            *_wrong_numbers(self),
        ]
        problems += [
            InvalidInput("commands", key, "use some of " + ", ".join(ALL_COMMANDS))
            for key in self.commands
            if key not in ALL_COMMANDS
        ]
        if not self.testers:
            problems.append(InvalidInput("testers", "none", "name at least one tester"))
        raise_all(problems, "bundle")

    @property
    def signallings(self) -> tuple[Signalling, ...]:
        """The ways of signalling that are open."""
        return tuple(Signalling) if self.signalling is None else (self.signalling,)

    @property
    def feedings(self) -> tuple[Feeding, ...]:
        """The ways of feeding that are open."""
        return tuple(Feeding) if self.feeding is None else (self.feeding,)

    @property
    def open_functions(self) -> tuple[str, ...]:
        """Every function a wire may have, what is no feed last."""
        asked = tuple(dict.fromkeys(self.functions))
        return tuple(f for f in asked if f not in NOT_FEEDS) + NOT_FEEDS

    @property
    def several_of(self) -> tuple[str, ...]:
        """Functions that any number of wires may have."""
        return tuple(f for f in self.open_functions if f in self.several or f in NOT_FEEDS)

    @property
    def known_commands(self) -> tuple[Command, ...]:
        """The commands that this vehicle has."""
        return tuple(each for each in COMMANDS if each.key in self.commands)

    def wire(self, key: str, field: str = "wire") -> Wire:
        """Return the wire with this key.

        Raises
        ------
        InvalidInput
            If there is none.
        """
        for each in self.wires:
            if each.key == key:
                return each
        known = ", ".join(each.key for each in self.wires)
        raise InvalidInput(field, key, f"name a wire of the bundle: {known}")

    def rows(self, signalling: Signalling) -> tuple[FunctionRow, ...]:
        """Return the functions open on a vehicle that signals so."""
        known = function_rows()
        return tuple(known[f] for f in self.open_functions if known[f].fits(signalling))


def _wrong_wires(wires: tuple[Wire, ...]) -> list[InvalidInput]:
    problems = []
    if not 1 <= len(wires) <= MOST_WIRES:
        fix = f"give 1 to {MOST_WIRES} wires; take a larger bundle in two parts"
        problems.append(InvalidInput("wires", len(wires), fix))
    keys = [each.key for each in wires]
    for place, key in enumerate(keys):
        if not key.strip() or len(key) > LONGEST_KEY:
            fix = f"tag the wire with 1 to {LONGEST_KEY} characters"
            problems.append(InvalidInput(f"wires[{place}].key", key, fix))
        elif key in keys[:place]:
            problems.append(InvalidInput(f"wires[{place}].key", key, "give each wire its own tag"))
    return problems


def _wrong_functions(bundle: Bundle) -> list[InvalidInput]:
    known = function_rows()
    problems = [
        InvalidInput(f"{field}[{place}]", key, "use some of " + ", ".join(known))
        for field, keys in (("functions", bundle.functions), ("several", bundle.several))
        for place, key in enumerate(keys)
        if key not in known
    ]
    if problems:
        return problems
    if not set(bundle.functions) - set(NOT_FEEDS):
        problems.append(InvalidInput("functions", "none", "name what may be among the wires"))
    for signalling in bundle.signallings:
        once = [r.function for r in bundle.rows(signalling) if r.function not in bundle.several_of]
        if len(once) > MOST_FUNCTIONS:
            fix = f"leave out what cannot be there: at most {MOST_FUNCTIONS} that stand once each"
            problems.append(InvalidInput("functions", f"{len(once)} ({signalling})", fix))
    return problems


def _wrong_numbers(bundle: Bundle) -> list[InvalidInput]:
    problems = []
    if bundle.nominal_v not in (12.0, 24.0):
        problems.append(InvalidInput("nominal_v", bundle.nominal_v, "use 12 or 24"))
    for name, value, low, high in (
        ("wrong_rate", bundle.wrong_rate, 0.001, 0.3),
        ("colour_weight", bundle.colour_weight, 0.0, 10.0),
        ("sure", bundle.sure, 0.5, 0.9999),
    ):
        if not (math.isfinite(value) and low <= value <= high):
            problems.append(InvalidInput(name, value, f"give a number from {low:g} to {high:g}"))
    return problems
