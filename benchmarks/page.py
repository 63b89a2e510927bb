"""The page `docs/benchmarks.md`: what was measured, against what was asked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from benchmarks.errands import Errand
from benchmarks.measuring import Measured
from benchmarks.rigs import MeasuredRig
from benchmarks.workloads import Size

NAMES = {"compiled": "Compiled (numba, the extra `fast`)", "arrays": "Arrays (NumPy alone)"}
ASKED = {
    "compiled": {"W1": (80, 150), "W2": (150, 300), "W3": (250, 450), "W4": (200, 400)},
    "arrays": {"W2": (15, 20), "W3": (35, 45), "W4": (50, 70)},
}
"""Ratios that must be reached, and those aimed at."""

HEAD = """\
# Benchmarks

Made by `make bench` on {day}; do not edit. {machine}.

## What is measured

One thread of ours against one ngspice in the same process (a C shim: no callback in Python),
**in turn, in {rounds} rounds**; the figures are medians, the range of the rounds beside them.
Time is **CPU time of the thread**, so that other work on the machine counts little; wall time
is given where a person waits. When the run began, {load:.1f} programs wanted a core.{busy}

ngspice gets `alter` and `op` for each case and **is not read**; we write what the column says.
Nothing is altered twice, the deck stays loaded, its bridges are only those of the sampled
faults, and its commands are strings made beforehand. `reltol=1e-5`: tighter did not converge on
floating parts, looser was no faster. ngspice is timed on a sample ({sampled} faults, pairs;
{few} draws; all commands), we on all cases of the workload (arrays, W3: {pairs} of the pairs).

Where a fuse opens, the circuit is solved again. ngspice then gets a second `op`, and is told for
nothing which fuse. Where ngspice fell into a search (gmin or source stepping), which takes up to a
hundred times as long, **the case is left out of its time**: that flatters it.

Our cases start from what a study knows: W1 from nothing, W2 and W4 from the rig without fault
under the same command, W3 from the single faults. Making the cases is outside the time in W1 to W3
(as the strings are for ngspice), inside in W4; drawing the numbers is outside for both.

| | cases |
| --- | --- |
| W1 | every command, from a cold start in a warm process; all node voltages written |
| W2 | {faults} single faults x commands: opens, corrosion, shorts, wires that touch; all nodes |
| W3 | every two of them x commands; the voltages of the loads |
| W4 | {samples} rigs with every resistance drawn anew x commands; the voltages of the loads |

| rig | nodes | resistances | loads | commands |
| --- | ---: | ---: | ---: | ---: |
{rigs}
"""

OWED = """\
## What the ratio owes to ngspice's generality

ngspice is a general simulator: it sets up every device anew for each `op`, interprets the
formula of each load, builds and reorders a sparse matrix, makes a plot of the result, and starts
each operating point from nothing. Our engine does one thing: quasi-static networks with laws that
increase, whose shape does not change while thousands of numbers do. A good part of the ratio is
that generality, which we do not pay for; none of it says that ngspice is slow at what it is for.

**One cold call loses.** A process that imports Python, NumPy and the engine to solve one command
takes longer than `ngspice -b` for the same: see the last rows above. The compiled executor is not
even loaded below some thousands of cases. The ratios hold for a process that is warm and has many
cases to solve: tracing, tolerance, sizing, the workbench.
"""


def page(
    measured: Sequence[Measured],
    errands: Sequence[Errand],
    rigs: Sequence[MeasuredRig],
    size: Size,
    made: tuple[dict[str, str], date, float],
) -> str:
    """Return the page as Markdown; `made` says on what machine and day, and what else ran there."""
    machine, day, load = made
    rows = "\n".join(
        f"| {rig.title} | {len(rig.network.nodes)} | {len(rig.network.elements) - rig.loads} "
        f"| {rig.loads} | {len(rig.commands)} |"
        for rig in rigs
    )
    head = HEAD.format(
        day=day.isoformat(),
        machine=", ".join(f"{key} {value}" for key, value in machine.items()),
        rounds=size.rounds,
        sampled=size.sampled,
        few=size.samples_in_ngspice,
        pairs=f"{size.numpy_pairs:,}",
        faults=size.faults,
        samples=f"{size.samples:,}",
        rigs=rows,
        load=load,
        busy=IN_DOUBT if load >= BUSY else "",
    )
    executors = list(dict.fromkeys(one.executor for one in measured))
    titles = {rig.key: rig.title for rig in rigs}
    parts = [head]
    parts.extend(
        "\n".join(_speeds(executor, [one for one in measured if one.executor == executor], titles))
        for executor in executors
    )
    parts.extend(("\n".join(_accuracies(measured, titles)), "\n".join(_errands(errands)), OWED))
    return "\n".join(parts)


BUSY = 1.0
"""Programs that want a core beside the run: from here on the page says that it is in doubt."""

IN_DOUBT = """
**The machine was busy**: others emptied its caches, which costs ngspice more than us. Run it again
on a quiet one before quoting a ratio."""


def verdict(one: Measured) -> str:
    """Say whether what was asked is reached."""
    asked = ASKED[one.executor].get(one.key)
    if one.ratio is None or asked is None:
        return ""
    must, target = asked
    if one.ratio >= target:
        return f"{must} / {target}: **target met**"
    return f"{must} / {target}: " + ("**met**" if one.ratio >= must else "**missed**")


def _speeds(executor: str, measured: Sequence[Measured], titles: dict[str, str]) -> Iterator[str]:
    yield f"## {NAMES[executor]}\n"
    yield "| | rig | cases | written | us a case | wall | ngspice, us | ratio | must / target |"
    yield "| --- | --- | ---: | --- | ---: | ---: | ---: | ---: | --- |"
    for one in sorted(measured, key=lambda each: each.key):
        yield (
            f"| {one.key} | {titles[one.rig]} | {one.solves:,} | {one.written} "
            f"| {one.ours_us:.3g} | {_time(one.wall_s)} | {_peer(one)} | {_ratio(one)} "
            f"| {verdict(one)} |"
        )
    demo = [one for one in measured if (one.rig, one.key) == ("demo", "W3")]
    if executor == "compiled" and demo:
        met = "met" if demo[0].wall_s < 1.0 else "missed"
        yield (
            f"\nThe whole dictionary of double faults of the demo rig, {demo[0].solves:,} cases on "
            f"one thread: **{_time(demo[0].wall_s)}** by the clock, "
            f"{_time(demo[0].ours_us * demo[0].solves / 1e6)} of CPU (must: 1 s on it, {met})."
        )
    yield ""


def _peer(one: Measured) -> str:
    if one.peer_us is None:
        return "not there"
    return f"{one.peer_us:,.0f} ({one.points:.2f} `op`)"


def _ratio(one: Measured) -> str:
    if one.ratio is None:
        return ""
    return f"**{one.ratio:.3g}** ({min(one.ratios):.3g} to {max(one.ratios):.3g})"


def _accuracies(measured: Sequence[Measured], titles: dict[str, str]) -> Iterator[str]:
    yield "## Accuracy, of the sampled cases\n"
    yield (
        "Held: nodes tied to the reference by 1e-5 S or more; the rest float, and are never shown "
        "as a\nreading. Where we and ngspice are more than 1e-6 V apart, an arbiter (dense "
        "matrix, 80-bit numbers,\none Newton step, itself good to some 1e-7 V on nodes that hang "
        "on their shunt) says who is\nright.\n"
    )
    yield (
        "| | rig | executor | held, V | floating, V | Kirchhoff, A | compared | searched "
        "| apart, arbiter to ours / to ngspice, V |"
    )
    yield "| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | --- |"
    for one in sorted(measured, key=lambda each: each.key):
        got = one.accuracy
        if got is not None:
            judged = f"{got.apart}: {got.ours_v:.0e} / {got.peer_v:.0e}" if got.apart else "none"
            yield (
                f"| {one.key} | {titles[one.rig]} | {one.executor} | {got.held_v:.1e} "
                f"| {got.floating_v:.1e} | {got.residual_a:.0e} | {got.compared} of {got.sampled} "
                f"| {got.sampled - one.direct} | {judged} |"
            )
    yield ""


def _errands(errands: Sequence[Errand]) -> Iterator[str]:
    yield "## What a person waits for (wall time)\n"
    yield "| errand | takes |"
    yield "| --- | ---: |"
    for errand in errands:
        yield f"| {errand.title} | {_time(errand.took_s)} |"
    yield ""


def _time(seconds: float) -> str:
    if seconds < 1e-3:
        return f"{1e6 * seconds:.3g} us"
    return f"{1e3 * seconds:.3g} ms" if seconds < 1.0 else f"{seconds:.3g} s"
