"""The whole answer: what each wire is, how sure that is, what to read next, what stays open."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.identify.alike import alike
from loomwright.identify.asking import choose, group_shares, settled
from loomwright.identify.behaviour import LEAVE_ALONE, NOT_FEEDS, SPARE, Feeding, Signalling
from loomwright.identify.belief import Belief, believe
from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.doubts import Doubt, doubts
from loomwright.identify.question import Question, question
from loomwright.identify.reading import Reading, check_readings
from loomwright.identify.safety import cautions_before
from loomwright.identify.seen import Seen
from loomwright.identify.sight import Sight
from loomwright.identify.titles import titles
from loomwright.identify.unknowable import left_open

LONGEST_HOW = 180
LEAST_SHOWN = 0.005


@dataclass(frozen=True, slots=True)
class Guess:
    """What a wire may be; more than one function where no reading tells them apart."""

    functions: tuple[str, ...]
    title: str
    probability: float


@dataclass(frozen=True, slots=True)
class Identified:
    """One wire: what it may be, likeliest first; whether that is sure; by which readings."""

    wire: Wire
    guesses: tuple[Guess, ...]
    is_settled: bool
    how: str

    @property
    def function(self) -> str | None:
        """The function, where one is sure; also `spare` and `leave_alone`."""
        best = self.guesses[0]
        if not self.is_settled:
            return None
        if set(best.functions) <= set(NOT_FEEDS):
            return SPARE if SPARE in best.functions else LEAVE_ALONE
        return best.functions[0] if len(best.functions) == 1 else None


@dataclass(frozen=True, slots=True)
class KeptWire:
    """A wire that was identified, as a wire map keeps it."""

    function: str
    colour: str
    size: str
    found: str
    how: str


@dataclass(frozen=True, slots=True)
class Identification:
    """What is known of a bundle after some readings.

    Attributes
    ----------
    bundle : Bundle
        What is identified.
    readings : tuple of Reading
        What was read.
    wires : tuple of Identified
        What each wire is.
    question : Question or None
        What to read next; None when all is sure, or nothing more can be told.
    doubts : tuple of Doubt
        Readings that are more likely wrong than right.
    left_open : tuple of str
        What cannot be known by such readings, and what would tell.
    cautions : tuple of str
        What to heed before the first probe.
    signalling, feeding : dict
        Probability of each way to signal and to feed lamp wires.
    entropy_bits : float
        What is still uncertain. [bit]
    """

    bundle: Bundle
    readings: tuple[Reading, ...]
    wires: tuple[Identified, ...]
    question: Question | None
    doubts: tuple[Doubt, ...]
    left_open: tuple[str, ...]
    cautions: tuple[str, ...]
    signalling: dict[Signalling, float]
    feeding: dict[Feeding, float]
    entropy_bits: float

    @property
    def is_settled(self) -> bool:
        """Whether every wire is known."""
        return all(each.is_settled for each in self.wires)

    @property
    def kept_wires(self) -> tuple[KeptWire, ...]:
        """The wires whose function is proved, ready for a wire map."""
        return tuple(
            KeptWire(
                each.function,
                each.wire.colour.words if each.wire.colour else "",
                each.wire.size,
                f"wire {each.wire.key}",
                each.how,
            )
            for each in self.wires
            if each.function is not None and each.function not in NOT_FEEDS
        )


def identify(
    bundle: Bundle, readings: tuple[Reading, ...] = (), seen: Sight | None = None
) -> Identification:
    """Return what is known of a bundle after readings, and what to read next.

    Parameters
    ----------
    bundle : Bundle
        What is identified.
    readings : tuple of Reading
        What was read, in the order in which it was.
    seen : Sight, optional
        The likelihoods of the bundle, if they are at hand.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every reading that is not of this bundle.
    """
    check_readings(bundle, readings)
    belief = believe(bundle, readings, seen)
    choice = choose(belief, readings)
    wires = tuple(_identified(belief, readings))
    return Identification(
        bundle=bundle,
        readings=readings,
        wires=wires,
        question=None if choice is None else question(belief, readings, choice),
        doubts=doubts(belief, readings),
        left_open=left_open(belief, readings, finished=choice is None),
        cautions=cautions_before(),
        signalling=belief.signalling(),
        feeding=belief.feeding(),
        entropy_bits=belief.entropy_bits,
    )


def _identified(belief: Belief, readings: tuple[Reading, ...]) -> list[Identified]:
    groups, shares = alike(belief.bundle), group_shares(belief)
    return [
        Identified(wire, _guesses(groups, row), sure, _how(wire.key, readings))
        for wire, row, sure in zip(
            belief.bundle.wires, shares.tolist(), settled(belief), strict=True
        )
    ]


def _guesses(groups: tuple[tuple[str, ...], ...], row: list[float]) -> tuple[Guess, ...]:
    found = [Guess(g, titles(g), p) for g, p in zip(groups, row, strict=True)]
    found.sort(key=lambda each: -each.probability)
    return tuple(each for each in found[:1] + [g for g in found[1:] if g.probability > LEAST_SHOWN])


def _how(wire: str, readings: tuple[Reading, ...]) -> str:
    """Return the readings that told: what was live, what a ground test showed."""
    mine = [each for each in readings if each.wire == wire]
    telling = [each.says for each in mine if each.seen is not Seen.NOTHING]
    if not telling:
        return f"nothing in {len(mine)} readings" if mine else ""
    said = "; ".join(dict.fromkeys(telling))
    return said if len(said) <= LONGEST_HOW else said[: LONGEST_HOW - 1] + "…"
