"""How fast the workbench answers: `python -m benchmarks.workbench` writes the page of it.

Each request is another change of the demo rig, so that nothing is answered from what was kept.
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import chain, islice, zip_longest
from pathlib import Path
from urllib.parse import urlencode

from starlette.testclient import TestClient

from benchmarks.machine import machine
from loomwright import examples, read_rig
from loomwright.changes.changeable import changeables
from loomwright.rig.read import read_job
from loomwright.store.opening import open_store
from loomwright.web.app import make_app
from loomwright.web.settings import Settings

PAGE = Path(__file__).resolve().parent.parent / "docs" / "workbench-measured.md"
TARGET_MS = 100.0


@dataclass(frozen=True, slots=True)
class Asked:
    """A kind of request: what it is, and its addresses below the rig, each another one."""

    what: str
    addresses: tuple[str, ...]
    has_target: bool = True


@dataclass(frozen=True, slots=True)
class Took:
    """What the requests of a kind took on the server. [ms]"""

    asked: Asked
    cpu_ms: tuple[float, ...]
    wall_ms: tuple[float, ...]


def kinds(rounds: int) -> tuple[Asked, ...]:
    """Return the kinds of request, each with that many different addresses."""
    return (
        Asked("what-if: a longer wire", tuple(_lengths(rounds))),
        Asked("what-if: a thicker or thinner wire", tuple(_others("size", rounds))),
        Asked("what-if: another lamp", tuple(_others("light", rounds))),
        Asked("what-if: another kind of splice", tuple(_others("joint", rounds))),
        Asked("what-if: the engine off and a longer wire", tuple(_engine_off(rounds))),
        Asked("the run under a command", tuple(_commands(rounds)), has_target=False),
        Asked("the load check", ("/load",) * rounds, has_target=False),
    )


def measured(rounds: int, folder: Path) -> list[Took]:
    """Return what each kind of request took, the demo rig solved beforehand."""
    with open_store(folder / "shop") as store:
        rig = store.rigs.create(examples.text(examples.DEMO), "benchmark")
        app = make_app(store, Settings("a secret for a while"))
        client = TestClient(app, base_url="http://127.0.0.1:5666", client=("127.0.0.1", 50000))
        at = f"/rigs/{rig.id}"
        _ask(client, f"{at}/load", ())
        return [
            _took(asked, lambda end: _ask(client, at + end, {"hx-request": "true"}))
            for asked in kinds(rounds)
        ]


def _took(asked: Asked, ask: Callable[[str], None]) -> Took:
    cpu, wall = [], []
    ask(asked.addresses[0])
    for address in asked.addresses[1:]:
        began, worked = time.perf_counter(), time.process_time()
        ask(address)
        cpu.append(1000 * (time.process_time() - worked))
        wall.append(1000 * (time.perf_counter() - began))
    return Took(asked, tuple(cpu), tuple(wall))


def _ask(client: TestClient, address: str, headers: object) -> None:
    answer = client.get(address, headers=dict(headers or {}))  # type: ignore[call-overload]
    if answer.status_code != 200:
        raise SystemExit(f"{address} answered {answer.status_code}")


def _lengths(rounds: int) -> Iterator[str]:
    for number in range(rounds):
        yield _trial(("vehicle.feed[1].length", f"{17 + number / 10:g} ft"))


def _others(subject: str, rounds: int) -> Iterator[str]:
    """Changes to another of the values that a person is offered, of one subject, place by place."""
    text = examples.text(examples.DEMO)
    places = changeables(read_rig(text), read_job(text), text)
    offers = [
        [(place.path, option.value) for option in place.options if option.value != place.now]
        for place in places
        if place.subject == subject
    ]
    in_turn = chain.from_iterable(zip_longest(*offers))
    return islice((_trial(each) for each in in_turn if each), rounds)


def _engine_off(rounds: int) -> Iterator[str]:
    for number in range(rounds):
        length = f"{27 + number / 10:g} ft"
        yield _trial(("vehicle.feed[7].length", length)) + "&under=engine-off"


def _commands(rounds: int) -> Iterator[str]:
    commands = ("park", "left", "right", "brake_pedal", "reverse", "park+brake_pedal")
    for number in range(rounds):
        yield "/run?" + urlencode({"do": commands[number % len(commands)]})


def _trial(*changes: tuple[str, str]) -> str:
    pairs = [pair for path, to in changes for pair in (("path", path), ("to", to))]
    return "/load?" + urlencode(pairs)


def described() -> str:
    """Return the machine in words."""
    facts = machine()
    return ", ".join(f"{key} {facts[key]}" for key in ("processor", "cores", "Python", "NumPy"))


def busy() -> str:
    """Return a warning if other work kept the machine busy; "" where that is not known."""
    load, cores = os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0, os.cpu_count() or 1
    if load <= cores:
        return ""
    return (
        f"\n\n**The machine was busy** ({load:.0f} at work on {cores} cores): even CPU times are "
        "too long then. Measure again when it is quiet."
    )


def page(took: Sequence[Took], day: date, rounds: int) -> str:
    """Return the page with what was measured."""
    rows = "\n".join(_row(each) for each in took)
    return f"""\
# How fast the workbench answers

Made by `python -m benchmarks.workbench` on {day.isoformat()}; do not edit. {described()}.

The demo rig, {rounds - 1} requests of each kind in one process, each another change, so that no
answer was kept from before; from the request to the whole answer, without a network. CPU time of
the process; the clock beside it.{busy()}

| request | CPU, least | CPU, median | CPU, 95th of 100 | by the clock, median | target |
| --- | ---: | ---: | ---: | ---: | --- |
{rows}

The findings of a trial are solved apart, and come a moment after its numbers.
"""


def _row(took: Took) -> str:
    middle = statistics.median(took.cpu_ms)
    late = statistics.quantiles(took.cpu_ms, n=20)[-1]
    target = ""
    if took.asked.has_target:
        target = f"{TARGET_MS:.0f} ms: **{'met' if middle < TARGET_MS else 'missed'}**"
    clock = statistics.median(took.wall_ms)
    times = " | ".join(f"{each:.0f} ms" for each in (min(took.cpu_ms), middle, late, clock))
    return f"| {took.asked.what} | {times} | {target} |"


def main(arguments: list[str]) -> int:
    """Measure and write the page; 0 if all went well."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.workbench", description=__doc__)
    parser.add_argument("--rounds", type=int, default=41, help="requests of each kind")
    parser.add_argument("--output", type=Path, default=PAGE, help="page to write")
    given = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as folder:
        took = measured(given.rounds, Path(folder))
    given.output.write_text(page(took, date.today(), given.rounds), "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
