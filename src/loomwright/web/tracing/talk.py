"""What was said of a rig while its fault is looked for: kept as events, so nothing is lost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from loomwright.observations.observation import Observation, from_plain, to_plain
from loomwright.store.events import MOST_AT_ONCE, Event
from loomwright.store.store import Store

TOPIC = "trace"


@dataclass(frozen=True, slots=True)
class Said:
    """One observation: its number in the log, who said it."""

    seq: int
    observation: Observation
    who: str


@dataclass(frozen=True, slots=True)
class Talk:
    """The search for the fault of one rig."""

    store: Store
    rig_id: str

    @property
    def topic(self) -> str:
        """What its events belong to."""
        return f"{TOPIC}/{self.rig_id}"

    def said(self) -> tuple[Said, ...]:
        """Return what holds now, oldest first: without what was taken back."""
        held: dict[int, Said] = {}
        for event in self._events():
            match event.payload.get("did"):
                case "saw":
                    seen = from_plain(event.payload["observation"])
                    held[event.seq] = Said(event.seq, seen, event.who)
                case "took back":
                    held.pop(int(event.payload["seq"]), None)
                case "began again":
                    held.clear()
        return tuple(held.values())

    def saw(self, observations: Sequence[Observation], who: str, key: str = "") -> None:
        """Keep observations; what is sent twice under one key counts once."""
        for number, observation in enumerate(observations):
            payload = {"did": "saw", "observation": to_plain(observation)}
            mark = f"{key}-{number}" if key else None
            self.store.events.append_event(self.topic, payload, who, key=mark)

    def take_back(self, seq: int, who: str) -> None:
        """Let an observation no longer count."""
        self.store.events.append_event(self.topic, {"did": "took back", "seq": seq}, who)

    def begin_again(self, who: str) -> None:
        """Begin with nothing said."""
        self.store.events.append_event(self.topic, {"did": "began again"}, who)

    def _events(self) -> Iterator[Event]:
        last = 0
        while found := self.store.events.events_since(last, self.topic):
            yield from found
            last = found[-1].seq
            if len(found) < MOST_AT_ONCE:
                return
