"""What the loads of the trailer get, each under the command that leaves it least."""

from __future__ import annotations

from loomwright.checks.rule import Work
from loomwright.cli.paint import Page, listing
from loomwright.electrics.answers import LoadAnswer
from loomwright.quantities import show_current, show_share, show_voltage

DIM = "dim"
NOT_SHOWN = ("trigger", "vehicle lamp")
EVERYTHING = "all"
"""No driver gives this command; it would hide the one that matters."""

HEADS = ("volts", "gets", "at worst", "lost out", "lost home")


def show_readings(page: Page, work: Work) -> None:
    """Print one row for each load of the trailer, under the command that leaves it least."""
    worst = worst_readings(work)
    if not worst:
        return
    page.line()
    page.head("What each load gets under its worst command, normal running")
    for number, (command, loads) in enumerate(worst.items()):
        if number:
            page.line()
        rows = [_row(work, command, load) for load in loads]
        page.show(listing((_said(command), *HEADS), rows, right=len(HEADS)))
    page.line()
    page.line(
        "At worst: idling or low charge, hot wires and magnets, aged contacts. Lost out, lost "
        "home: volts left in the wires on the way there and back.",
        "quiet",
    )


def worst_readings(work: Work) -> dict[str, list[LoadAnswer]]:
    """Return the loads of the trailer by the command, of those that call for it, it gets least."""
    found: dict[str, list[LoadAnswer]] = {key: [] for key in work.answers.commands}
    cases = [work.answers.at(key) for key in found if key != EVERYTHING]
    for name in [load.name for load in cases[0].loads if load.kind not in NOT_SHOWN]:
        called = [case for case in cases if case.load(name).commanded]
        if called:
            worst = min(called, key=lambda case: abs(case.load(name).voltage_v))
            found[worst.command].append(worst.load(name))
    return {command: loads for command, loads in found.items() if loads}


def _said(command: str) -> str:
    return command.replace("+", " + ").replace("_", " ")


def _row(work: Work, command: str, load: LoadAnswer) -> tuple[str, ...]:
    if load.floating:
        return (load.name, "floating", "", "", "", "")
    has_dim = DIM in work.answers.conditions
    worst = work.answers.at(command, DIM).load(load.name) if has_dim else load
    return (
        load.name,
        show_voltage(load.voltage_v),
        _gets(load),
        _gets(worst),
        show_voltage(load.supply_drop_v),
        show_voltage(load.return_drop_v),
    )


def _gets(load: LoadAnswer) -> str:
    if load.light_share is None:
        return show_current(load.current_a)
    return f"{show_share(round(load.light_share, 2))} {load.word}"
