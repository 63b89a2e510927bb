"""A question with its answer: what was said, what is taken instead, what is to mend."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from loomwright.colours import Colour, legends
from loomwright.invalid import InvalidInput
from loomwright.quantities import Units
from loomwright.rig.model import Assumption
from loomwright.web.describing.assumed import Assumed, assumed
from loomwright.web.describing.questions import Option, Question
from loomwright.web.describing.understood import candidates, colour_of, understood
from loomwright.web.describing.writing import shown, value_at
from loomwright.web.words import standing as standing_words

REQUIRED = (".function", ".connector")
FROM_LEGEND = "vehicle."
AS_WRITTEN = "as written in the job file"


@dataclass(frozen=True, slots=True)
class Answer:
    """A question as it stands on a page.

    `text` is what stands in the field, whether it can be used or not; `offered` what it may have
    meant, each to be tapped.
    """

    question: Question
    text: str
    assumed: Assumed | None = None
    understood: str = ""
    colour: Colour | None = None
    problem: InvalidInput | None = None
    offered: tuple[Option, ...] = ()

    @property
    def options(self) -> tuple[Option, ...]:
        """What can be chosen: what is written too, and to leave it open where that can be."""
        options = self.question.options
        values = {option.value for option in options}
        if self.text and self.text not in values:
            options = (Option(self.text, self.text, AS_WRITTEN), *options)
        needs_no_choice = self.question.kind == "table" or "" in values
        if needs_no_choice or self.question.path.endswith(REQUIRED):
            return options
        return (*options, self._open)

    @property
    def ticks(self) -> tuple[tuple[Option, bool], ...]:
        """What can be ticked, and whether it is: what is written as often as it is written."""
        written = Counter(part.strip() for part in self.text.split(",") if part.strip())
        found = []
        for option in self.question.options:
            times = written.pop(option.value, 0)
            title = option.title if times < 2 else f"{option.title}, {times} times"
            value = ", ".join([option.value] * max(times, 1))
            found.append((Option(value, title, option.words), times > 0))
        extra = (Option(value, value, AS_WRITTEN) for value in written.elements())
        return (*found, *((option, True) for option in extra))

    @property
    def _open(self) -> Option:
        """The choice to leave it open: what is assumed then, as far as that is known."""
        if self.assumed is None:
            return Option("", "Leave it open" if self.text else "Not said")
        value = self.assumed.value
        is_word = value[1:2].islower()
        title = f"Assumed: {value[:1].lower()}{value[1:]}" if is_word else f"Assumed: {value}"
        standing = f" ({standing_words(self.assumed.standing)})" if self.assumed.standing else ""
        return Option("", title, f"{self.assumed.says}{standing}")


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known of a rig when its questions are answered."""

    data: Mapping[str, Any]
    assumptions: tuple[Assumption, ...]
    problems: tuple[InvalidInput, ...]
    units: Units

    @property
    def legend(self) -> str | None:
        """Whose colour letters the vehicle's manual uses, if that is known."""
        legend = value_at(self.data, "vehicle.legend")
        return legend if isinstance(legend, str) and legend in legends() else None


def answer(question: Question, facts: Facts, text: str | None = None) -> Answer:
    """Return a question with its answer; `text` is what stands in the field, if not in the file."""
    said = shown(question, facts.data) if text is None else text
    legend = facts.legend if question.path.startswith(FROM_LEGEND) else None
    problem = problem_of(question, facts.problems)
    return Answer(
        question,
        said,
        assumed(question, facts.assumptions, facts.units),
        understood(question.kind, said, facts.units),
        colour_of(said, legend) if question.kind == "colour" else None,
        problem,
        candidates(question.kind, said, facts.units, legend) if problem and said else (),
    )


def problem_of(question: Question, problems: Sequence[InvalidInput]) -> InvalidInput | None:
    """Return the first complaint about an answer, or about an entry of its list."""
    path = question.path
    own = {path}
    if question.kind == "placing":
        own = {f"{path}.sides", f"{path}.side"}
    listed = (
        f"{path}[" if question.kind in ("list", "lines", "lamps", "several", "joined") else None
    )
    return next(
        (one for one in problems if one.field in own or (listed and one.field.startswith(listed))),
        None,
    )
