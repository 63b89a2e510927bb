"""What trace speaks of: faults of a rig, how they rank, what to look at next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from loomwright.circuit.faults import Fault
from loomwright.observations.observation import Observation
from loomwright.observations.word import Word

Side = Literal["vehicle", "coupling", "trailer"]

NORMAL = "normal"
"""Key of the hypothesis that nothing is wrong: the rig, or this vehicle, is like that."""

NONE_OF_THESE = "none"
"""Key of the hypothesis that it is something that no fault here stands for."""


@dataclass(frozen=True, slots=True)
class Sign:
    """What a fault shows that no network can tell: a message, a worn shoe, a held-off line.

    Attributes
    ----------
    kind : {"load", "controller", "fuse", "smell"}
        What shows it.
    words : tuple of Word
        Words it gives, the usual one first.
    commands : tuple of str
        Under which commands; empty for any.
    function : str
        Circuit of the loads that show it; empty for all.
    own_too : bool
        Whether the vehicle's own lamps show it as well.
    """

    kind: Literal["load", "controller", "fuse", "smell"]
    words: tuple[Word, ...]
    commands: tuple[str, ...] = ()
    function: str = ""
    own_too: bool = False


@dataclass(frozen=True, slots=True)
class RigFault:
    """One thing that may be wrong with this very rig.

    Attributes
    ----------
    key : str
        Its name: the same rig gives the same keys.
    title : str
        In the words of the trade: "tail fuse blown".
    side : {"vehicle", "coupling", "trailer"}
        Which half it is in.
    place : str
        Kind of place, such as ``trailer.ground.main`` or ``vehicle.fuse``.
    part : str
        The part on this rig: "screw of plug pin 3".
    form : str
        Electrical form, such as ``open`` or ``short_to_ground``.
    circuit : str
        ``tail left right stop brake charge reverse fog ground`` or ``all``.
    changes : tuple of Fault
        What it changes in the network.
    weight : float
        How usual it is, against the other faults; any positive number.
    size_ohm : float or None
        Resistance of the fault, where several sizes are kept apart. [ohm]
    comes_and_goes : bool
        Whether it is there at one moment and gone at the next.
    signs : tuple of Sign
        What it shows besides.
    repair : str
        What to do about it.
    """

    key: str
    title: str
    side: Side
    place: str
    part: str
    form: str
    circuit: str
    changes: tuple[Fault, ...]
    weight: float
    size_ohm: float | None = None
    comes_and_goes: bool = False
    signs: tuple[Sign, ...] = ()
    repair: str = ""

    @property
    def group(self) -> tuple[str, str, str, str]:
        """Side, place, part, form: what is one thing to a technician, of whatever size."""
        return self.side, self.place, self.part, self.form


@dataclass(frozen=True, slots=True)
class Reason:
    """What one observation says of one suspect.

    `factor` is how much likelier the observation is under this suspect than under all others
    together: above 1 it speaks for it. `expected` is what this suspect would show there.
    """

    observation: Observation
    factor: float
    expected: str
    says: str

    @property
    def speaks_for(self) -> bool:
        """Whether it speaks for the suspect."""
        return self.factor >= 1.0


@dataclass(frozen=True, slots=True)
class Flow:
    """How current flows under one command with a suspect in the rig.

    `currents_a` is by element of the network, first node to second [A]; `backwards` names those
    in which it runs against the way it runs in a healthy rig, or where none should run;
    `opened` the fuses that open.
    """

    command: str
    currents_a: Mapping[str, float]
    backwards: tuple[str, ...]
    opened: tuple[str, ...]
    says: str


@dataclass(frozen=True, slots=True)
class Suspect:
    """A fault, or two at once, with its share of the belief."""

    fault: RigFault
    probability: float
    second: RigFault | None = None


@dataclass(frozen=True, slots=True)
class Group:
    """Suspects that are one thing to a technician: same side, place, part and form.

    `alike` names other groups that no observation so far, and no lamp at all, tells from this
    one: parts in one row of the same conductor.
    """

    side: Side
    place: str
    part: str
    form: str
    circuit: str
    title: str
    probability: float
    suspects: tuple[Suspect, ...]
    reasons: tuple[Reason, ...] = ()
    repair: str = ""
    flow: Flow | None = None

    @property
    def best(self) -> Suspect:
        """The likeliest of them."""
        return self.suspects[0]


@dataclass(frozen=True, slots=True)
class Ranking:
    """Everything that may be wrong, likeliest first, after some observations.

    `groups` holds the faults; `none` and `normal` are the probabilities that it is none of them,
    and that nothing is wrong; with them the groups sum to one. `two` is the probability that
    two faults are there at once, half of which counts for the group of each.
    `by_side` and `by_place` sum the groups up.
    """

    groups: tuple[Group, ...]
    none: float
    normal: float
    observations: tuple[Observation, ...] = ()
    two: float = 0.0
    by_side: Mapping[str, float] = field(default_factory=dict)
    by_place: Mapping[str, float] = field(default_factory=dict)
    unread: tuple[Observation, ...] = ()
    """Observations that say nothing of this rig: a place it does not have."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """One answer to a question: how likely it is, and what it would mean.

    `observations` is what the answer says, where it says something of places: one reading, or
    one word for each lamp that was looked at.
    """

    says: str
    probability: float
    means: tuple[str, ...]
    observations: tuple[Observation, ...] = ()

    @property
    def observation(self) -> Observation | None:
        """The observation, where the answer is a single one."""
        return self.observations[0] if len(self.observations) == 1 else None


@dataclass(frozen=True, slots=True)
class Question:
    """What to look at next.

    Attributes
    ----------
    key : str
        Its name.
    says : str
        What to do, as one instruction.
    command : str
        Key of the command to hold; empty with the power off, or where none matters.
    minutes : float
        Effort. [min]
    information_bit : float
        What it tells, on average. [bit]
    needs : tuple of str
        Tools, a helper, a second vehicle.
    outcomes : tuple of Outcome
        Its answers, likeliest first.
    caution : str
        What to mind.
    """

    key: str
    says: str
    command: str
    minutes: float
    information_bit: float
    needs: tuple[str, ...]
    outcomes: tuple[Outcome, ...]
    caution: str = ""

    @property
    def bit_per_minute(self) -> float:
        """Information for its effort. [bit/min]"""
        return self.information_bit / self.minutes


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do now: look further, or repair.

    `repair` is a group that is sure enough; then `retest` says what to test afterwards, and
    `watch` what a second fault would show.
    """

    questions: tuple[Question, ...]
    repair: Group | None = None
    retest: tuple[str, ...] = ()
    watch: str = ""
