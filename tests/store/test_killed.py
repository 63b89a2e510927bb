"""Killed in the middle of writing, many times: what was acknowledged is there, whole."""

import os
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
from tests.store import writer

from loomwright.store.opening import open_store

ROOT = Path(__file__).parents[2]


def rounds(place: str) -> int:
    """Return how often to kill: the file is ours to keep sound, the server sees to itself."""
    return 10 if "://" in place else 30


class Writer:
    """A process that splits off writers, and what the last of them told."""

    def __init__(self) -> None:
        self.process = self.start()

    def start(self) -> "subprocess.Popen[str]":
        """Start it."""
        return subprocess.Popen(
            [sys.executable, "-m", "tests.store.writer"],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def send(self, place: str, rig_id: str) -> int:
        """Let it split off a writer; return the number of that process."""
        assert self.process.stdin
        self.process.stdin.write(f"{place} {rig_id}\n")
        self.process.stdin.flush()
        return int(self.heard().removeprefix("process "))

    def heard(self) -> str:
        """Wait for the next line."""
        assert self.process.stdout
        return self.process.stdout.readline().strip()

    def kill(self, number: int) -> int:
        """Kill a writer; return the last version it had acknowledged, 0 if there was none."""
        os.kill(number, getattr(signal, "SIGKILL", signal.SIGTERM))
        saved = 0
        while (line := self.heard()) not in {"gone", ""}:
            saved = int(line.removeprefix("saved "))
        if not line:  # no splitting off on this system: it was killed itself
            self.process = self.start()
        return saved

    def end(self) -> None:
        """End it."""
        assert self.process.stdin
        assert self.process.stdout
        self.process.stdin.close()
        self.process.wait(10)
        self.process.stdout.close()


@pytest.fixture(scope="module")
def killed() -> Iterator[Writer]:
    writer = Writer()
    yield writer
    writer.end()


def test_nothing_acknowledged_is_lost_and_nothing_is_half_written(
    place: str, killed: Writer
) -> None:
    with open_store(place) as store:
        rig = store.rigs.create(writer.text_of(1), "Kim").id
    for round_number in range(rounds(place)):
        process = killed.send(place, rig)
        found = int(killed.heard().removeprefix("saved "))
        time.sleep(0.2 * round_number / rounds(place))
        told = max(found, killed.kill(process))

        with open_store(place) as store:
            history = store.rigs.history(rig)
            newest = len(history)
            assert told <= newest <= told + 1  # one more may have been under way
            assert store.rigs.entry(rig).version == newest
            assert [each.text for each in history] == [
                writer.text_of(number) for number in range(1, newest + 1)
            ]
            events = store.events.events_since(0, limit=newest + 10)
            assert [each.payload["version"] for each in events] == list(range(1, newest + 1))

    assert newest > rounds(place)  # the kills came in the middle of writing


def test_a_store_killed_while_it_is_made_can_be_made_again(
    new_place: Callable[[], str], killed: Writer
) -> None:
    for round_number in range(rounds(new_place()) // 2):
        place = new_place()
        process = killed.send(place, "none")
        time.sleep(0.05 * round_number / 15)
        killed.kill(process)

        with open_store(place) as store:
            assert store.rigs.create("", "Kim").version == 1


def test_a_killed_file_is_sound_to_the_database_itself(tmp_path: Path, killed: Writer) -> None:
    """By SQLite's own check, on its own connection."""
    place = tmp_path / "shop.db"
    with open_store(place) as store:
        rig = store.rigs.create("", "Kim").id
    process = killed.send(str(place), rig)
    killed.heard()
    time.sleep(0.05)
    killed.kill(process)

    with closing(sqlite3.connect(place)) as connection:
        assert connection.execute("pragma integrity_check").fetchone() == ("ok",)
