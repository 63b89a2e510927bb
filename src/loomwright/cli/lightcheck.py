"""`loomwright lightcheck`: what must be seen and read on this rig, asked one thing at a time."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from loomwright import light_check_plan
from loomwright.cli.bar import with_bar
from loomwright.cli.codes import DONE, TO_MEND
from loomwright.cli.files import open_rig, read_text, write_result
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.lightcheck.answers_file import Noted
    from loomwright.lightcheck.model import Answer, Plan
    from loomwright.rig.model import Rig


def lightcheck(
    file: Path,
    /,
    *,
    tester: str = "trailer",
    people: Literal[1, 2] = 2,
    plan: Annotated[bool, Parameter(show_default=False)] = False,
    answers: Path | None = None,
    engine: Literal["off", "running"] = "off",
    battery_v: float | None = None,
    air_c: float | None = None,
    prop: Annotated[bool, Parameter(negative="--no-prop")] = True,
    wall: Annotated[bool, Parameter(show_default=False)] = False,
    fob: str = "",
    socket: str | None = None,
    seed: int = 1,
    json_: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
    output: Annotated[Path | None, Parameter(name=["--output", "-o"])] = None,
) -> int:
    """Lead through the light check of the rig in FILE, against readings of this very rig.

    At a terminal it asks one thing at a time and keeps each answer in the answers file at once;
    broken off, it goes on there. Elsewhere it judges the answers file, or prints the plan.
    Exits with 0 if nothing is wrong, 1 if something is.

    Parameters
    ----------
    file
        Job file.
    tester
        eye, trailer, test-lamp, led-tester, meter, load-box or clamp, or several: trailer+meter.
    people
        How many do it; one is led in the order with the fewest walks.
    plan
        Only print the plan.
    answers
        File the answers are kept in and read from; JSON.
    engine
        Whether the engine runs while lamps are looked at.
    battery_v
        Volts a meter shows at the battery before the check; makes the bands narrower.
    air_c
        Temperature of the air in °C; makes the bands narrower.
    prop
        Whether one person has a prop for the pedal and a strap for the lever.
    wall
        Whether lamps are seen from the cab in a wall or window behind.
    fob
        What the key fob gives: hazard, park; several parted by commas.
    socket
        Socket tested with the plug out; else the one the trailer plugs into.
    seed
        The same seed gives the same bands.
    json_
        Print plan, answers and how they stand as JSON.
    output
        File to write instead of printing.
    """
    from loomwright.lightcheck.setting import Setting
    from loomwright.lightcheck.solo import Alone

    rig = open_rig(file)
    talks = _asks(plan=plan, json_=json_, output=output)
    noted = _noted(answers, new=talks or plan)
    setting = Setting(engine, battery_v, air_c)
    alone = Alone(prop, wall, tuple(each.strip() for each in fob.split(",") if each.strip()))
    made = with_bar(
        f"Planning {rig.name}",
        lambda told: light_check_plan(
            rig, tester, people, setting=setting, alone=alone, socket=socket, seed=seed,
            progress=told,
        ),
    )  # fmt: skip
    if talks:
        answers = answers or _beside(file)
        noted = _noted(answers, new=True)
    _refuse_other_rig(noted, rig, answers)
    if talks:
        noted = _guided(made, noted, answers or _beside(file))
    shown = [] if plan else _judged(made, noted)
    _print(file, made, shown, json_=json_, output=output, plan=plan or not noted.observations)
    return TO_MEND if any(str(each.standing) == "wrong" for each in shown) else DONE


def _asks(*, plan: bool, json_: bool, output: Path | None) -> bool:
    """Whether a person sits at both ends."""
    return not (plan or json_ or output) and sys.stdin.isatty() and sys.stdout.isatty()


def _beside(file: Path) -> Path:
    return file.with_suffix(".answers.json")


def _noted(answers: Path | None, *, new: bool) -> Noted:
    """Read the answers; a file that is not there yet is made where somebody answers."""
    from loomwright.lightcheck.answers_file import Noted, read_noted

    if answers is None or (new and not answers.exists()):
        return Noted()
    return read_noted(read_text(answers), str(answers))


def _refuse_other_rig(noted: Noted, rig: Rig, answers: Path | None) -> None:
    if noted.rig and noted.rig != rig.name:
        fix = f"name the answers of {rig.name}, or another file to start anew"
        raise InvalidInput("answers", f"{answers}: {noted.rig}", fix)


def _guided(made: Plan, noted: Noted, answers: Path) -> Noted:
    from loomwright.cli.lightcheck_guide import guide, terminal
    from loomwright.lightcheck.answers_file import Noted

    start = Noted(made.rig, noted.observations, noted.usual)
    return guide(made, start, terminal(answers))


def _judged(made: Plan, noted: Noted) -> list[Answer]:
    from loomwright.lightcheck.judging import judge_all

    if not noted.observations:
        return []
    return list(judge_all(made, noted.observations, noted.usual))


def _print(
    file: Path, made: Plan, shown: list[Answer], *, json_: bool, output: Path | None, plan: bool
) -> None:
    if json_:
        from loomwright.reports import lightcheck_report

        text = json.dumps(lightcheck_report(made, shown, str(file))) + "\n"
    else:
        from loomwright.cli.lightcheck_view import answers_text, plan_text

        text = plan_text(made) if plan else answers_text(made, shown)
    if output is None:
        sys.stdout.write(text)
    else:
        write_result(output, text, source=file)
