"""Devices that follow a light check: woken by each event, told who else is there."""

from __future__ import annotations

import asyncio
import contextlib
import json
from collections import Counter
from collections.abc import AsyncIterator, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from threading import Lock

from starlette.concurrency import run_in_threadpool

from loomwright.store.checks import TOPIC
from loomwright.store.events import Event
from loomwright.store.store import Store

READS_AGAIN_S = 1.0
"""Another process may have written to the same store; only this one is woken."""

BEATS_S = 4.0
"""So often a device hears that the link holds."""


@dataclass(slots=True)
class _Follower:
    """One open stream: how to wake it, and which check it follows in which role."""

    loop: asyncio.AbstractEventLoop
    bell: asyncio.Event
    check_id: str
    role: str


@dataclass(slots=True)
class Following:
    """The open streams of a workbench."""

    lock: Lock = field(default_factory=Lock)
    followers: list[_Follower] = field(default_factory=list)
    is_closed: bool = False

    def close(self) -> None:
        """Let every stream end: the workbench stops."""
        self.is_closed = True
        for check_id in {each.check_id for each in self.followers}:
            self.wake(check_id)

    def wake(self, check_id: str) -> None:
        """Let every device that follows a check look again; from any thread."""
        with self.lock:
            for each in self.followers:
                if each.check_id == check_id:
                    with contextlib.suppress(RuntimeError):  # its loop has been closed
                        each.loop.call_soon_threadsafe(each.bell.set)

    def present(self, check_id: str) -> dict[str, int]:
        """Return how many devices follow a check in each role."""
        with self.lock:
            roles = Counter(each.role for each in self.followers if each.check_id == check_id)
        return dict(roles)

    @contextmanager
    def following(self, check_id: str, role: str) -> Iterator[asyncio.Event]:
        """Count a device among the followers of a check while its stream is open."""
        mine = _Follower(asyncio.get_running_loop(), asyncio.Event(), check_id, role)
        with self.lock:
            self.followers.append(mine)
        self.wake(check_id)
        try:
            yield mine.bell
        finally:
            with self.lock:
                self.followers.remove(mine)
            self.wake(check_id)

    async def stream(self, store: Store, check_id: str, role: str, seq: int) -> AsyncIterator[str]:
        """Yield the events of a check after one that is known, as server-sent events, for ever.

        Parameters
        ----------
        store : Store
            Where the events are.
        check_id : str
            Which check.
        role : str
            What the device is: ``cab``, ``lamps`` or ``alone``.
        seq : int
            The last event the device knows.
        """
        topic, here, quiet_s = f"{TOPIC}/{check_id}", {"": 0}, 0.0
        with self.following(check_id, role) as bell:
            yield "retry: 1000\n\n"
            while not self.is_closed:
                bell.clear()
                for event in await run_in_threadpool(store.events.events_since, seq, topic):
                    seq = event.seq
                    yield _told(event)
                if (now := self.present(check_id)) != here:
                    here = now
                    yield f"event: here\ndata: {json.dumps(here)}\n\n"
                if quiet_s >= BEATS_S:
                    quiet_s = 0.0
                    yield "event: beat\ndata: \n\n"
                try:
                    await asyncio.wait_for(bell.wait(), READS_AGAIN_S)
                except TimeoutError:
                    quiet_s += READS_AGAIN_S


def _told(event: Event) -> str:
    said = {**event.payload, "who": event.who, "seq": event.seq}
    return f"id: {event.seq}\nevent: check\ndata: {json.dumps(said)}\n\n"
