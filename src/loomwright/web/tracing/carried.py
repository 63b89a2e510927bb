"""The readings of a light check, in the form that tracing takes."""

from __future__ import annotations

from dataclasses import dataclass, replace

from loomwright.lightcheck.model import Answer, Standing
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.word import Word
from loomwright.store.checks_values import LightCheck, latest
from loomwright.store.store import Store


@dataclass(frozen=True, slots=True)
class Carried:
    """What a light check saw: its readings, and how many of them were wrong."""

    check: LightCheck
    observations: tuple[Observation, ...]
    wrong: int

    @property
    def says(self) -> str:
        """What is taken over, in a few words."""
        count = len(self.observations)
        amount = f"{count} reading{'' if count == 1 else 's'}"
        wrong = f"{self.wrong} of them wrong" if self.wrong else "all as they should be"
        return f"{amount} of light check {self.check.number}, {wrong}"


def carried_from(store: Store, rig_id: str, check_id: str) -> Carried | None:
    """Return what a light check of a rig saw, the right with the wrong; None if there is none.

    What was not tested says nothing, nor does what its tester could not tell.

    Parameters
    ----------
    store : Store
        Where it is kept.
    rig_id : str
        Whose check it is.
    check_id : str
        The check.
    """
    check = next((c for c in store.checks.checks_of(rig_id) if c.id == check_id), None)
    if check is None:
        return None
    answers = [kept.answer for kept in latest(store.checks.answers(check)).values()]
    wrong = sum(each.standing is Standing.WRONG for each in answers)
    return Carried(check, tuple(o for each in answers if (o := _observed(each)) is not None), wrong)


def _observed(answer: Answer) -> Observation | None:
    """What is normal for this vehicle speaks for just that, whatever was read."""
    if answer.observation is None or answer.standing in (Standing.NOT_TESTED, Standing.DOUBTFUL):
        return None
    if answer.standing is Standing.USUAL:
        usual, seen = Word.AS_USUAL, Quantity.SEEN
        return replace(answer.observation, quantity=seen, word=usual, value=None)
    return answer.observation
