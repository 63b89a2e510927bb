"""How long tracing takes: `python -m benchmarks.trace` writes docs/trace-measured.md.

The demo rig's faults are solved by our arrays and by compiled code, one thread each; ngspice gets
a sample of the very same faults under the same commands. CPU time of the process is told, since
other work on the machine does not count in it, and wall time where a person waits.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from importlib.util import find_spec
from pathlib import Path
from statistics import median
from time import perf_counter, process_time
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from loomwright.circuit.plan import Executor
    from loomwright.trace.engine import Trace
    from loomwright.trace.hypotheses import Hypotheses

ONE_THREAD = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS", "NUMBA_NUM_THREADS")
PAGE = Path(__file__).resolve().parent.parent / "docs" / "trace-measured.md"
DEMO = "horse-trailer-van"
PAIRS = 45_000
SAMPLED = 40


@dataclass(frozen=True, slots=True)
class Timed:
    """One thing that was measured: CPU and wall time, and what was asked of it. [s]"""

    title: str
    cpu_s: float
    wall_s: float
    asked: str


def timed(title: str, asked: str, work: Callable[[], object], times: int) -> Timed:
    """Measure some work, the median of so many times."""
    cpu, wall = [], []
    for _ in range(times):
        start, started = process_time(), perf_counter()
        work()
        cpu.append(process_time() - start)
        wall.append(perf_counter() - started)
    return Timed(title, median(cpu), median(wall), asked)


def measure(times: int, pairs: int) -> tuple[list[Timed], str]:
    """Measure everything on the demo rig; return it, and a line about the rig."""
    from loomwright import examples, read_rig
    from loomwright.observations.observation import Observation, Quantity
    from loomwright.observations.place import Place, PlaceKind
    from loomwright.observations.word import Word
    from loomwright.trace.bench import make_bench
    from loomwright.trace.engine import Trace
    from loomwright.trace.pairs import pair_hypotheses
    from loomwright.trace.solved import solve_field

    rig = read_rig(examples.text(DEMO))
    found: list[Timed] = []

    def ready() -> Trace:
        return Trace([(rig, 1.0)])

    found.append(timed("ready from the rig, arrays: all single faults", "0.3 s", ready, times))
    trace = ready()
    singles, bench = trace.singles[0], make_bench(rig)
    executors: list[Executor] = ["arrays"]
    if find_spec("numba") is not None:
        executors.append("compiled")
        pair_hypotheses(singles, 10, executor="compiled")
    for executor in executors:
        changes = singles.field.changes
        title = f"{len(changes)} different faults x {len(bench.commands)} commands, {executor}"
        solve = partial(solve_field, bench, changes, executor)
        found.append(timed(title, "", solve, times))
    for executor in executors:
        title = f"{pairs} pairs x {len(bench.commands)} commands, {executor}"
        asked = "8 s" if executor == "arrays" else "2 s"
        work = partial(pair_hypotheses, singles, pairs, executor=executor)
        found.append(timed(title, asked, work, 1 if executor == "arrays" else times))
    seen = [
        Observation(c, Place(PlaceKind.GROUP, p), Quantity.SEEN, word=w)
        for c, p, w in (
            ("park", "tail lamps", Word.OFF),
            ("left", "left rear", Word.FLASHING),
            ("brake_pedal", "brakes", Word.WEAK),
        )
    ]
    trace.rank(seen)

    def again() -> object:
        for part in trace.parts:
            part.hypotheses.memory.clear()
        return trace.rank(seen, explained=0)

    found.append(timed("rank after three observations, singles", "", again, times))
    ranking = trace.rank(seen, explained=0)
    found.append(timed("the next step, singles", "0.2 s", lambda: trace.advise(ranking), times))
    trace.prepare_pairs(pairs)
    found.append(timed("rank after three observations, with pairs", "", again, times))
    paired = trace.rank(seen, explained=0)
    found.append(timed("the next step, with pairs", "0.2 s", lambda: trace.advise(paired), times))
    about = (
        f"{len(trace.faults)} faults in {len(singles.field.changes)} different states, "
        f"{len(bench.wiring.network.nodes)} nodes, {len(bench.wiring.loads)} loads; "
        f"worst residual {trace.residual_a:.0e} A"
    )
    return found, about


def ngspice_s(sampled: int) -> tuple[float, int] | None:
    """CPU time of ngspice for one fault under one command, and how many were run; or None. [s]"""
    from benchmarks.ngspice_peer import NgspicePeer, NoNgspice
    from benchmarks.peer_run import PeerRun
    from loomwright import examples, read_rig
    from loomwright.trace.engine import Trace

    rig = read_rig(examples.text(DEMO))
    singles = Trace([(rig, 1.0)]).singles[0]
    with tempfile.TemporaryDirectory() as folder:
        try:
            peer = NgspicePeer(Path(folder))
        except NoNgspice as problem:
            print(f"no ngspice in process: {problem}", file=sys.stderr)
            return None
        deck, states = _states(singles, sampled)
        run = PeerRun(peer, deck, states)
        run.load(lambda: None)
        took = median(run.time_s() for _ in range(3))
        run.unload()
    return took, len(states)


def _states(singles: Hypotheses, sampled: int) -> tuple[Any, list[Any]]:
    """The deck of the rig as wired, and each sampled fault under every command as its states."""
    from benchmarks.deck import make_deck
    from benchmarks.peer_run import with_fuses
    from loomwright.circuit import Load, settle_many
    from loomwright.circuit.faults import Bridged, Opened, Resisted
    from loomwright.electrics.cases import case_for
    from loomwright.electrics.wiring import wire_up
    from loomwright.trace.faulted import faulted

    wiring = wire_up(singles.field.bench.rig)

    def is_measured(fault: object) -> bool:
        if isinstance(fault, Bridged):
            return True
        return isinstance(fault, Opened | Resisted) and not isinstance(
            wiring.network.element(fault.element), Load
        )

    fit = [c[0] for c in singles.field.changes if len(c) == 1 and is_measured(c[0])]
    chosen = fit[:: max(len(fit) // sampled, 1)][:sampled]
    deck = make_deck(wiring.network, chosen)
    states = []
    for command in singles.field.bench.commands[:-1]:
        case = case_for(wiring, command)
        for fault in chosen:
            broken = faulted(wiring.network, (fault,))
            solution = settle_many(broken, (case_for(replace(wiring, network=broken), command),))[
                0
            ][0]
            states.append(with_fuses(deck.of(case, (fault,)), list(solution.opened)))
    return deck, states


def page(found: Sequence[Timed], about: str, peer: tuple[float, int] | None, day: date) -> str:
    """Write the page."""
    from benchmarks.machine import machine

    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else float("nan")
    on = ", ".join(f"{key} {value}" for key, value in machine().items())
    lines = [
        "# Tracing, measured",
        "",
        f"Made by `python -m benchmarks.trace` on {day}; do not edit. {on}.",
        "",
        f"The demo rig: {about}.",
        "",
        "Faults along one row of a conductor do the same to every lamp and pin, so one of them is",
        "solved for all. CPU time of the process, one thread; medians.",
        "",
        f"Load of the machine at the end: {load:.1f}. Where it is above the number of cores, other",
        "programs slow ours and ngspice alike: the ratios hold, the times are too long.",
        "",
        "| what | CPU | wall | asked |",
        "| --- | ---: | ---: | ---: |",
    ]
    lines += [f"| {t.title} | {_s(t.cpu_s)} | {_s(t.wall_s)} | {t.asked} |" for t in found]
    lines.append("")
    if peer is None:
        lines.append("ngspice was not there to be measured against.")
    else:
        took, count = peer
        lines += [
            f"ngspice, in process, {count} of the same single faults x commands, `alter` and `op`,",
            f"not read: {took * 1e6:.0f} us for one.",
            "",
            "| ours, for one fault under one command | time | ratio to ngspice |",
            "| --- | ---: | ---: |",
        ]
        for t in found:
            cases = _cases(t.title)
            if cases:
                each = t.cpu_s / cases
                lines.append(f"| {t.title} | {each * 1e6:.1f} us | {took / each:.0f} |")
        lines += [
            "",
            "Ours includes compiling the rig, the fuses that open, and turning volts into light.",
        ]
    return "\n".join([*lines, ""])


def _cases(title: str) -> int:
    """How many solves a title speaks of."""
    if " x " not in title:
        return 0
    first, rest = title.split(" x ")
    return int(first.split()[0]) * int(rest.split()[0])


def _s(seconds: float) -> str:
    return f"{seconds:.2f} s" if seconds >= 0.995 else f"{seconds * 1e3:.0f} ms"


def main(arguments: list[str]) -> int:
    """Measure and write the page; 0 if all went well."""
    os.environ.update(dict.fromkeys(ONE_THREAD, "1"))
    parser = argparse.ArgumentParser(prog="python -m benchmarks.trace", description=__doc__)
    parser.add_argument("--rounds", type=int, default=5, help="times each is measured")
    parser.add_argument("--tiny", action="store_true", help="only see whether it runs")
    parser.add_argument("--output", type=Path, default=PAGE, help="page to write")
    given = parser.parse_args(arguments)
    found, about = measure(1 if given.tiny else given.rounds, 200 if given.tiny else PAIRS)
    peer = ngspice_s(2 if given.tiny else SAMPLED)
    given.output.write_text(page(found, about, peer, date.today()), "utf-8")
    print(f"wrote {given.output}", file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
