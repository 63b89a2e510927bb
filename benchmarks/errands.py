"""How long a person waits: whole answers, a check from cold, one change tried."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from shutil import which
from statistics import median
from time import perf_counter

from benchmarks.deck import make_deck
from benchmarks.rigs import MeasuredRig
from loomwright import examples
from loomwright.circuit import Case
from loomwright.electrics.commands import find_command
from loomwright.electrics.solved import answer, answers
from loomwright.electrics.wiring import wire_up


@dataclass(frozen=True, slots=True)
class Errand:
    """Something a person waits for, and the wall time it takes. [s]"""

    title: str
    took_s: float


def run_errands(demo: MeasuredRig, times: int) -> list[Errand]:
    """Time the errands on the demo rig, the median of so many times each."""
    wiring = wire_up(demo.rig)
    park = find_command("park")
    worn = Case(resistance_ohm={"contact_1_ground": 0.05})
    longer = replace(demo.rig, name="demo with another name")
    errands: list[tuple[str, Callable[[], object]]] = [
        ("`answers(demo)`: every command, four conditions, all readings", lambda: answers(longer)),
        ("one what-if: a worn contact under one command", lambda: answer(wiring, park, worn)),
    ]
    found = [Errand(title, _median_s(work, times)) for title, work in errands]
    with tempfile.TemporaryDirectory() as folder:
        job, deck = Path(folder) / "job.toml", Path(folder) / "deck.cir"
        job.write_text(examples.text("horse-trailer-van"), "utf-8")
        deck.write_text(make_deck(demo.network).text.replace(".end", ".op\n.end"), "ascii")
        cold = [
            (
                "`loomwright check` from cold, demo rig",
                [sys.executable, "-m", "loomwright", "check", str(job)],
            ),
            (
                "Python from cold: import NumPy and the engine, solve one command",
                [sys.executable, "-c", ONE, str(job)],
            ),
        ]
        ngspice = which("ngspice")
        if ngspice is not None:
            cold.append(
                ("`ngspice -b` from cold: the same one command", [ngspice, "-b", str(deck)])
            )
        for title, command in cold:
            found.append(Errand(title, _median_s(partial(_run, command), times)))
    return found


ONE = """\
import sys
from pathlib import Path
from loomwright import read_rig
from loomwright.circuit import solve
from loomwright.electrics.wiring import wire_up
solve(wire_up(read_rig(Path(sys.argv[1]).read_text("utf-8"))).network)
"""


def _run(command: list[str]) -> None:
    subprocess.run(command, capture_output=True, check=False)


def _median_s(work: Callable[[], object], times: int) -> float:
    took = []
    work()
    for _ in range(times):
        start = perf_counter()
        work()
        took.append(perf_counter() - start)
    return median(took)
