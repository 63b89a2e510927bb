"""One run of all benchmarks, rig by rig and workload by workload."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from importlib.util import find_spec
from pathlib import Path

from benchmarks.errands import run_errands
from benchmarks.machine import load, machine
from benchmarks.measuring import Measured, measure
from benchmarks.ngspice_peer import NgspicePeer, NoNgspice
from benchmarks.page import page
from benchmarks.rigs import MeasuredRig, measured_rigs
from benchmarks.workloads import Bench, Size
from loomwright.circuit.plan import Executor


@dataclass(frozen=True, slots=True)
class Run:
    """How much to measure, a folder to work in, the day, and who is told how far it is."""

    size: Size
    folder: Path
    day: date
    told: Callable[[str], None]


def run(run: Run) -> str:
    """Measure everything; return the page."""
    before = load()
    peer = open_peer(run.folder, run.told)
    rigs = measured_rigs(run.size.faults)
    measured = [one for rig in rigs for one in measure_rig(rig, run, peer)]
    run.told("what a person waits for")
    errands = run_errands(rigs[1], run.size.rounds)
    return page(measured, errands, rigs, run.size, (machine(), run.day, before))


def open_peer(
    folder: Path, told: Callable[[str], None], compiler: str = "cc"
) -> NgspicePeer | None:
    """Start ngspice; if it cannot be, say why and go on without."""
    try:
        return NgspicePeer(folder, compiler)
    except NoNgspice as problem:
        told(f"no ngspice in process, only our own times: {problem}")
        return None


def measure_rig(rig: MeasuredRig, run: Run, peer: NgspicePeer | None) -> list[Measured]:
    """Measure the four workloads on one rig, by every executor there is."""
    executors: list[Executor] = ["arrays"]
    if find_spec("numba") is not None:
        executors.insert(0, "compiled")
    run.told(f"{rig.key}: compiling")
    by_executor = {
        name: Bench(rig, run.size, name).workloads(all_pairs=name == "compiled")
        for name in executors
    }
    measured = []
    for number in range(4):
        workloads = {name: each[number] for name, each in by_executor.items()}
        for one in measure(rig.key, workloads, peer, run.size.rounds, run.told):
            run.told(f"  {one.key} {one.executor}: {one.ours_us:.3g} us, ratio {one.ratio}")
            measured.append(one)
    return measured
