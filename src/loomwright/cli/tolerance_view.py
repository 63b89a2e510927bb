"""Bands on a page: each load under the command that leaves it least, and what decides it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from loomwright.cli.paint import Page, listing
from loomwright.cli.readings_view import EVERYTHING, NOT_SHOWN
from loomwright.electrics.sensitivity import Matter, matters_at, slopes_of
from loomwright.electrics.tolerance import Band, CommandBands, LoadBand, Tolerance
from loomwright.electrics.varied import VariedRig
from loomwright.quantities import show_current, show_share, show_voltage

Show = Callable[[float], str]

HEADS = ("volts", "5 %", "50 %", "95 %", "at worst")
MATTERING = 3
"""Joints and wires named for each load."""

LEAST_SWING_V = 0.005
"""What moves a load less is not named. [V]"""


def show_tolerance(name: str, found: Tolerance, varied: VariedRig) -> None:
    """Print bands and what matters most.

    Parameters
    ----------
    name : str
        Name of the rig.
    found : Tolerance
        The bands.
    varied : VariedRig
        The rig they are of.
    """
    page = Page()
    page.head(name)
    page.line(
        f"{found.samples} rigs drawn, seed {found.seed}; joints {_joints(found)}. In 5 of 100 a "
        "reading is below the first of the three bounds, in 5 above the last."
    )
    worst = worst_commands(found, varied)
    for command, loads in worst.items():
        page.line()
        page.head(_said(command))
        page.show(listing(("", *HEADS), [r for load in loads for r in _rows(load)], right=5))
    page.line()
    page.line(_sampling_error(worst), "quiet")
    page.line()
    page.head("What moves a load most, from one end of its spread to the other")
    page.show(listing(("load", "joint or wire", "moves it by"), _matters(worst, varied), right=1))
    _show_fuses(page, found)


def worst_commands(found: Tolerance, varied: VariedRig) -> dict[str, list[LoadBand]]:
    """Return the loads of the trailer by the command, of those that call for it, it gets least."""
    called = {command.key: set(command.functions) for command in varied.commands}
    commands = [each for each in found.commands if each.command != EVERYTHING]
    shown: dict[str, list[LoadBand]] = {each.command: [] for each in commands}
    for load in commands[0].loads:
        if load.kind in NOT_SHOWN:
            continue
        among = [each for each in commands if load.function in called[each.command]]
        least = min(among or commands, key=lambda each: _rank(each, load.name, bool(among)))
        shown[least.command].append(least.load(load.name))
    return {command: loads for command, loads in shown.items() if loads}


def _rank(bands: CommandBands, load: str, is_called: bool) -> float:
    """Least volts where a command calls for the load; most where it is on by itself."""
    low = bands.load(load).voltage_v.low.value
    return low if is_called else -low


def _rows(load: LoadBand) -> Iterator[tuple[str, ...]]:
    yield (load.name, *_row(load.voltage_v, show_voltage))
    if load.light_share is not None:
        yield ("  light", *_row(load.light_share, lambda share: show_share(round(share, 2))))
    if load.current_a is not None:
        yield ("  amps", *_row(load.current_a, show_current))


def _row(band: Band, show: Show) -> tuple[str, ...]:
    values = (band.nominal, band.low.value, band.middle.value, band.high.value, band.least)
    return tuple(show(each) for each in values)


def _sampling_error(worst: dict[str, list[LoadBand]]) -> str:
    loads = [load.voltage_v for loads in worst.values() for load in loads]
    widest = max((each.low.high - each.low.low) / 2.0 for each in loads)
    return (
        f"These samples place the 5 % bounds within {show_voltage(widest)} either way (19 times "
        "of 20); four times as many halve that. At worst: supply, warmth and every part at the "
        "end of its spread that leaves this load least."
    )


def _matters(worst: dict[str, list[LoadBand]], varied: VariedRig) -> Iterator[tuple[str, str, str]]:
    keys = [command.key for command in varied.commands]
    for command, loads in worst.items():
        slopes = slopes_of(varied, keys.index(command))
        for load in loads:
            name = load.name
            for each in _joints_and_wires(matters_at(varied, slopes, load.name)):
                yield name, each.place, show_voltage(abs(each.swing_v))
                name = ""


def _joints_and_wires(ranked: tuple[Matter, ...]) -> list[Matter]:
    """What a person can mend, the most first."""
    mendable = ("wire", "joint", "contact", "fuse", "frame")
    found = [each for each in ranked if each.part is not None and each.part.kind in mendable]
    return [each for each in found[:MATTERING] if abs(each.swing_v) >= LEAST_SWING_V]


def _show_fuses(page: Page, found: Tolerance) -> None:
    opened = [
        f"{fuse} under {_said(bands.command)} in {show_share(share)}"
        for bands in found.commands
        for fuse, share in bands.opened.items()
        if share > 0.0
    ]
    if opened:
        page.line()
        page.line("Fuses that open in some of the samples: " + "; ".join(opened) + ".")


def _joints(found: Tolerance) -> str:
    return "new" if found.joints == "new" else "of any age, new to weathered"


def _said(command: str) -> str:
    return command.replace("+", " + ").replace("_", " ")
