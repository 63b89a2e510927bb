"""What was said of a rig while its fault is looked for: kept as events, so nothing is lost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from loomwright.observations.observation import Observation, from_plain, to_plain
from loomwright.store.events import MOST_AT_ONCE, Event
from loomwright.store.store import Store
from loomwright.trace.efforts import AT_HAND

TOPIC = "trace"


@dataclass(frozen=True, slots=True)
class Said:
    """What was said at once: one answer, one phrase, the readings of one light check.

    Attributes
    ----------
    seq : int
        Its number in the log.
    observations : tuple of Observation
        What of it still counts.
    who : str
        Who said it.
    says : str
        Its words, where it is more than its observations one by one.
    source : str
        Id of the light check it was taken over from.
    is_right : bool
        Whether it says that everything there was as it should be.
    """

    seq: int
    observations: tuple[Observation, ...]
    who: str
    says: str = ""
    source: str = ""
    is_right: bool = False


@dataclass(frozen=True, slots=True)
class Told:
    """How far the conversation is.

    Attributes
    ----------
    said : tuple of Said
        What counts, oldest first: what was said before a repair no longer does.
    mended : tuple of str
        What was repaired so far, the last one last.
    retest : tuple of str
        Commands that showed the last fault, to be held again.
    passed : frozenset of str
        Keys of questions that cannot be answered here.
    tools : tuple of str
        What is at hand.
    seq : int
        Number of the last thing that happened.
    """

    said: tuple[Said, ...] = ()
    mended: tuple[str, ...] = ()
    retest: tuple[str, ...] = ()
    passed: frozenset[str] = frozenset()
    tools: tuple[str, ...] = AT_HAND
    seq: int = 0

    @property
    def observations(self) -> tuple[Observation, ...]:
        """Everything that counts."""
        return tuple(each for said in self.said for each in said.observations)

    @property
    def is_right_again(self) -> bool:
        """Whether everything that was looked at since the repair was as it should be."""
        seen = {each.command for each in self.observations}
        all_right = bool(self.said) and all(said.is_right for said in self.said)
        return bool(self.mended) and all_right and set(self.retest) <= seen


@dataclass(frozen=True, slots=True)
class Talk:
    """The search for the fault of one rig."""

    store: Store
    rig_id: str

    @property
    def topic(self) -> str:
        """Where its events are kept."""
        return f"{TOPIC}/{self.rig_id}"

    def told(self) -> Told:
        """Return how far it is."""
        told = Told()
        for event in self._events():
            told = _after(told, event)
        return told

    def saw(self, observations: Sequence[Observation], who: str, key: str = "", **more: Any) -> int:
        """Keep what was said at once; what is sent twice under one key counts once.

        Parameters
        ----------
        observations : sequence of Observation
            What was observed.
        who : str
            Who said it.
        key : str
            Mark of the sender.
        more : object
            `says`, `source` and `is_right` of what was said.
        """
        payload = {"did": "saw", "observations": [to_plain(each) for each in observations], **more}
        return self._did(payload, who, key)

    def take_back(self, seq: int, who: str, number: int | None = None, key: str = "") -> None:
        """Let something no longer count: all that was said at once, or one observation of it."""
        self._did({"did": "took back", "seq": seq, "number": number}, who, key)

    def mend(self, title: str, retest: Sequence[str], who: str, key: str = "") -> None:
        """Keep that something was repaired: what was seen before it says nothing any more."""
        self._did({"did": "mended", "title": title, "retest": list(retest)}, who, key)

    def pass_over(self, question: str, who: str) -> None:
        """Keep that a question cannot be answered here."""
        self._did({"did": "passed", "question": question}, who)

    def has(self, tools: Sequence[str], who: str) -> None:
        """Keep what is at hand; questions that were passed over are asked again."""
        self._did({"did": "has", "tools": list(tools)}, who)

    def begin_again(self, who: str) -> None:
        """Begin with nothing said."""
        self._did({"did": "began again"}, who)

    def _did(self, payload: Mapping[str, Any], who: str, key: str = "") -> int:
        return self.store.events.append_event(self.topic, payload, who, key=key or None).seq

    def _events(self) -> Iterator[Event]:
        last = 0
        while found := self.store.events.events_since(last, self.topic):
            yield from found
            last = found[-1].seq
            if len(found) < MOST_AT_ONCE:
                return


def _after(told: Told, event: Event) -> Told:
    given, after = event.payload, told
    match given.get("did"):
        case "saw":
            after = replace(told, said=(*told.said, _said(event)))
        case "took back":
            after = replace(told, said=tuple(_without(told.said, given)))
        case "mended":
            mended = (*told.mended, str(given["title"]))
            retest = tuple(str(each) for each in given["retest"])
            after = replace(told, said=(), mended=mended, retest=retest, passed=frozenset())
        case "passed":
            after = replace(told, passed=told.passed | {str(given["question"])})
        case "has":
            tools = tuple(str(each) for each in given["tools"])
            after = replace(told, tools=tools, passed=frozenset())
        case "began again":
            after = Told(tools=told.tools)
    return replace(after, seq=event.seq)


def _said(event: Event) -> Said:
    given = event.payload
    plain = given["observations"] if "observations" in given else [given["observation"]]
    return Said(
        event.seq,
        tuple(from_plain(each) for each in plain),
        event.who,
        str(given.get("says", "")),
        str(given.get("source", "")),
        is_right=bool(given.get("is_right")),
    )


def _without(said: Sequence[Said], given: Mapping[str, Any]) -> Iterator[Said]:
    seq, number = int(given["seq"]), given.get("number")
    for each in said:
        if each.seq != seq:
            yield each
        elif number is not None:
            kept = tuple(o for n, o in enumerate(each.observations) if n != number)
            if kept:
                yield replace(each, observations=kept, says="")
