"""Loomwright: the workbench of the person who wires trailers to tow vehicles.

In a few lines::

    from pathlib import Path
    import loomwright

    rig = loomwright.read_rig(Path("job.toml").read_text(encoding="utf-8"), file="job.toml")
    work = loomwright.survey(rig)
    for finding in loomwright.check(work):
        print(finding.severity, finding.where, finding.says, finding.fix)
    Path("job.pdf").write_bytes(loomwright.job_sheet(work))

Heavy libraries load when a function that needs them is called.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from loomwright.changes.change import Change
    from loomwright.changes.outcome import Outcome
    from loomwright.checks.rule import Finding, Work
    from loomwright.identify.bundle import Bundle
    from loomwright.identify.identification import Identification
    from loomwright.identify.reading import Reading
    from loomwright.lightcheck.model import Plan
    from loomwright.lightcheck.setting import Setting
    from loomwright.lightcheck.solo import Alone
    from loomwright.observations.observation import Observation
    from loomwright.rig.model import Rig
    from loomwright.trace.model import Ranking

__version__: str

__all__ = [
    "__version__",
    "check",
    "find_faults",
    "identify_wires",
    "job_sheet",
    "light_check_plan",
    "mend",
    "netlist",
    "read_rig",
    "survey",
    "what_if",
]


def __getattr__(name: str) -> str:
    """Return the version when it is asked for: reading it takes longer than all else here."""
    if name == "__version__":
        from importlib.metadata import version

        return version("loomwright")
    raise AttributeError(f"module 'loomwright' has no attribute {name!r}")


def read_rig(text: str, file: str = "") -> Rig:
    """Return the rig a job file describes.

    Parameters
    ----------
    text : str
        The job file's text.
    file : str
        Its name, for messages.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every field that cannot be used, with file and line.
    """
    from loomwright.rig.read import read_rig as read

    return read(text, file)


def survey(rig: Rig, progress: Callable[[int, int], None] | None = None) -> Work:
    """Pair a rig's conductors and solve its circuit for every command and condition.

    Parameters
    ----------
    rig : Rig
        Complete rig.
    progress : callable, optional
        Called with cases done and cases in all.
    """
    from loomwright.checks.rule import Work
    from loomwright.electrics.solved import answers
    from loomwright.hookup import pair

    return Work(rig=rig, hookup=pair(rig), answers=answers(rig, progress))


def check(work: Work) -> tuple[Finding, ...]:
    """Return what to put right on a surveyed rig, gravest first."""
    from loomwright.checks.collect import check as find

    return find(work)


def mend(work: Work, text: str, finding: Finding) -> Change | None:
    """Return the plain change that mends a finding, or None if there is none.

    Parameters
    ----------
    work : Work
        The surveyed rig.
    text : str
        Its job file; `loomwright.changes.change.changed` writes the change into it.
    finding : Finding
        One of its findings.
    """
    from loomwright.changes.mends import mend_for
    from loomwright.rig.read import read_job

    return mend_for(finding, work, read_job(text))


def what_if(
    work: Work, text: str, changes: Mapping[str, str], conditions: str = "nominal"
) -> Outcome:
    """Return what a few changes of the job file would do: the numbers that move, the new text.

    Parameters
    ----------
    work : Work
        The surveyed rig.
    text : str
        Its job file.
    changes : mapping of str to str
        What is to stand at each path, as a job file says it: ``{"trailer.run.brake": "12 AWG"}``.
        `loomwright.changes.changeable.changeables` lists the paths.
    conditions : str
        nominal, dim, heavy or engine-off.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`: for every path that cannot be changed, else for every value.
    """
    from loomwright.changes.what_if import what_if as tried

    return tried(work, text, changes, conditions=conditions)


def find_faults(rig: Rig, observations: Sequence[Observation]) -> Ranking:
    """Rank what may be wrong with a rig after what was seen and measured on it.

    For more than one answer make a `loomwright.trace.engine.Trace` once and ask it again.

    Parameters
    ----------
    rig : Rig
        Complete rig.
    observations : sequence of Observation
        What was seen and measured, in any order.
    """
    from loomwright.trace.engine import trace_rig

    return trace_rig(rig).rank(observations)


def job_sheet(work: Work, paper: Literal["letter", "a4"] = "letter") -> bytes:
    """Return the job sheet of a surveyed rig as a PDF."""
    from loomwright.checks.collect import check as find
    from loomwright.parts import parts_list
    from loomwright.sheets import job_sheet as print_sheet

    return print_sheet(work, find(work), parts_list(work.rig, work.hookup), paper=paper)


def light_check_plan(
    rig: Rig,
    tester: str = "trailer",
    people: Literal[1, 2] = 2,
    *,
    setting: Setting | None = None,
    alone: Alone | None = None,
    socket: str | None = None,
    seed: int = 1,
    progress: Callable[[int, int], None] | None = None,
) -> Plan:
    """Return what to hold and what must be seen and read at every pin and load of a rig.

    Parameters
    ----------
    rig : Rig
        Complete rig.
    tester : str
        Key of a tester, or several: ``trailer+meter+clamp``.
    people : {1, 2}
        How many do it.
    setting : Setting, optional
        What is known of engine, battery and air.
    alone : Alone, optional
        What helps one person.
    socket : str, optional
        Socket tested with the plug out; the one the trailer plugs into if not given.
    seed : int
        The same seed gives the same bands.
    progress : callable, optional
        Called with cases done and cases in all.

    Raises
    ------
    InvalidInput, ExceptionGroup
        If there is no such tester or socket, or a number cannot be used.
    """
    from loomwright.lightcheck.plan import plan_for

    return plan_for(
        rig,
        tester,
        people,
        setting=setting,
        alone=alone,
        socket=socket,
        seed=seed,
        progress=progress,
    )


def identify_wires(bundle: Bundle, readings: tuple[Reading, ...] = ()) -> Identification:
    """Return which wire of a bundle does what after readings, and what to read next.

    Parameters
    ----------
    bundle : Bundle
        The wires, what may be among them, and what is known of the vehicle.
    readings : tuple of Reading
        What was read of them.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every reading that is not of this bundle.
    """
    from loomwright.identify.identification import identify

    return identify(bundle, readings)


def netlist(rig: Rig, command: str, conditions: str = "nominal") -> str:
    """Return the rig under one command as a SPICE deck that any simulator can run."""
    from loomwright.electrics.solved import netlist as write

    return write(rig, command, conditions)
