"""Before and after the work, side by side; and an added socket beside the old one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from loomwright.electrics.commands import Command
from loomwright.electrics.places import PinPlace
from loomwright.electrics.stated import stated_v
from loomwright.invalid import InvalidInput
from loomwright.lightcheck.asks import at_pin
from loomwright.lightcheck.bench import Bench, Held, make_bench, probed_pins
from loomwright.lightcheck.drawn import Reading, draw_numbers, solve_drawn
from loomwright.lightcheck.judging import where_of
from loomwright.lightcheck.model import Answer, Expectation, Standing
from loomwright.lightcheck.naming import function_words
from loomwright.lightcheck.plan import SAMPLES, checked_commands, live_pins
from loomwright.lightcheck.setting import Setting
from loomwright.lightcheck.spread import spread_of
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import PlaceKind
from loomwright.reference.testers import find_tester
from loomwright.rig.model import Rig


class Change(StrEnum):
    """What the work did to one reading."""

    MENDED = "mended"
    BETTER = "better"  # from wrong to doubtful
    SAME = "as before"
    WORSE = "worse"
    STILL_WRONG = "still wrong"
    NEW = "only after"
    GONE = "only before"


@dataclass(frozen=True, slots=True)
class Compared:
    """One place before and after; `None` where it was not looked at."""

    title: str
    command: str
    before: Answer | None
    after: Answer | None
    change: Change


RANK: Final = {
    Standing.RIGHT: 0,
    Standing.USUAL: 0,
    Standing.DOUBTFUL: 1,
    Standing.WRONG: 2,
}


def compare(before: Sequence[Answer], after: Sequence[Answer]) -> tuple[Compared, ...]:
    """Return two light checks side by side, in the order of the later one.

    Parameters
    ----------
    before : sequence of Answer
        The check before the work started.
    after : sequence of Answer
        The check after it. The two may be of plans that differ: places are told apart by
        command, place, tester and plug.
    """
    first = {where_of(each.expectation): each for each in before}
    rows = [
        _compared(each.expectation, first.pop(where_of(each.expectation), None), each)
        for each in after
    ]
    rows += [_compared(each.expectation, each, None) for each in first.values()]
    return tuple(rows)


def _compared(mine: Expectation, before: Answer | None, after: Answer | None) -> Compared:
    return Compared(mine.title, mine.command, before, after, _change(before, after))


def _change(before: Answer | None, after: Answer | None) -> Change:
    was = None if before is None else RANK.get(before.standing)
    now = None if after is None else RANK.get(after.standing)
    if was is None:
        return Change.SAME if now is None else Change.NEW
    if now is None:
        return Change.GONE
    if now == was:
        return Change.STILL_WRONG if now == RANK[Standing.WRONG] else Change.SAME
    if now > was:
        return Change.WORSE
    return Change.MENDED if now == 0 else Change.BETTER


@dataclass(frozen=True, slots=True)
class Loss:
    """What an added socket may lose against the old one at one function, under one load. [V]

    Attributes
    ----------
    function, command : str
        The circuit, and what is held.
    old_pin, new_pin : tuple of (str, str)
        Socket and pin.
    usual_v : float
        What the trade lets it lose: 0.1 V for lamps, 0.3 V for brakes and charge.
    nominal_v, most_v : float
        What this rig's wires and joints make it lose: in the middle, and in one rig of twenty.
    """

    function: str
    command: str
    old_pin: tuple[str, str]
    new_pin: tuple[str, str]
    usual_v: float
    nominal_v: float
    most_v: float


@dataclass(frozen=True, slots=True)
class Lost:
    """A loss as it was read, and how it stands."""

    loss: Loss
    old_v: float
    new_v: float
    standing: Standing
    says: str


HEAVY: Final = ("brake", "battery", "ignition", "charge")


def socket_losses(
    rig: Rig,
    old: str,
    new: str,
    tester: str = "load-box",
    *,
    setting: Setting | None = None,
    samples: int = SAMPLES,
    seed: int = 1,
) -> tuple[Loss, ...]:
    """Return what an added socket may lose against the old one with the same load on each.

    Parameters
    ----------
    rig : Rig
        The rig with both sockets.
    old, new : str
        Names of the sockets.
    tester : str
        Key of a tester that puts a load on the pins.
    setting : Setting, optional
        What is known of engine, battery and air.
    samples : int
        How many rigs the bands rest on.
    seed : int
        0 or more; the same seed gives the same bands.

    Raises
    ------
    InvalidInput
        If a socket is unknown or has no pins left, or the tester loads nothing.
    """
    known = setting or Setting()
    box = find_tester(tester, "tester")
    if box.loads not in ("one pin", "every pin"):
        raise InvalidInput("tester", tester, "use one that puts a load on the pins: load-box")
    bench = make_bench(rig, (box,), known)
    pairs = _pairs(bench, old, new)
    commands = checked_commands(rig)
    live = live_pins(bench, commands)
    asked = [
        (command, one, other)
        for one, other in pairs
        if (command := _lightest(commands, live, one, other)) is not None
    ]
    wanted: dict[Held, list[Reading]] = {}
    for command, one, other in asked:
        for pin in (one, other):
            wanted.setdefault(_loaded(command, pin, box.key), []).append(at_pin(pin))
    drawn = solve_drawn(bench, wanted, draw_numbers(bench, samples, seed))
    losses = []
    for command, one, other in asked:
        at_old, at_new = (
            drawn.at(_loaded(command, pin, box.key), at_pin(pin)) for pin in (one, other)
        )
        lost = spread_of(at_old - at_new)
        losses.append(_loss(command, one, other, (lost.middle, lost.high)))
    return tuple(losses)


def judge_losses(losses: Sequence[Loss], observations: Iterable[Observation]) -> tuple[Lost, ...]:
    """Return how an added socket stands beside the old one, where both were read.

    Parameters
    ----------
    losses : sequence of Loss
        As `socket_losses` gives them.
    observations : iterable of Observation
        Volts of both sockets' pins with the plug out and the same load on each.
    """
    volts = {
        (each.command, each.place.name, each.place.pin): (each.value, each.tester)
        for each in observations
        if each.quantity is Quantity.VOLTS and each.place.kind is PlaceKind.PIN
    }
    return tuple(_judged(losses, volts))


def _judged(
    losses: Sequence[Loss], volts: dict[tuple[str, str, str], tuple[float | None, str]]
) -> Iterator[Lost]:
    for loss in losses:
        old_v, tester = volts.get((loss.command, *loss.old_pin), (None, ""))
        new_v, _ = volts.get((loss.command, *loss.new_pin), (None, ""))
        if old_v is None or new_v is None:
            continue
        lost_v = old_v - new_v
        off_v = 2.0 * (find_tester(tester).volts_off or 0.0)
        allowed_v = max(loss.usual_v, loss.most_v)
        what = f"{function_words(loss.function)}: the new socket loses {lost_v:.2f} V"
        if lost_v <= loss.usual_v:
            yield Lost(loss, old_v, new_v, Standing.RIGHT, "")
        elif lost_v <= allowed_v + off_v:
            says = (
                f"{what}; the trade lets it lose {loss.usual_v:.1f} V, these wires {allowed_v:.2f}"
            )
            yield Lost(loss, old_v, new_v, Standing.DOUBTFUL, says)
        else:
            says = f"{what}, its wires make it {loss.nominal_v:.2f}: look at its joints and ground"
            yield Lost(loss, old_v, new_v, Standing.WRONG, says)


def _loaded(command: Command, pin: PinPlace, tester: str) -> Held:
    return Held(command, plugged=False, tester=tester, pins=((pin.socket, pin.pin),))


def _pairs(bench: Bench, old: str, new: str) -> list[tuple[PinPlace, PinPlace]]:
    pins = probed_pins(bench.wiring)
    names = dict.fromkeys(pin.socket for pin in pins)
    for field, name in (("old", old), ("new", new)):
        if name not in names:
            known = ", ".join(names)
            raise InvalidInput(field, name, f"name a socket that has its pins: {known}")
    by_function = {pin.function: pin for pin in pins if pin.socket == old}
    return [
        (by_function[pin.function], pin)
        for pin in pins
        if pin.socket == new and pin.function in by_function
    ]


def _lightest(
    commands: Sequence[Command],
    live: dict[str, frozenset[tuple[str, str]]],
    one: PinPlace,
    other: PinPlace,
) -> Command | None:
    """The first command under which both pins are live."""
    pins = {(one.socket, one.pin), (other.socket, other.pin)}
    return next((each for each in commands if pins <= live[each.key]), None)


def _loss(command: Command, one: PinPlace, other: PinPlace, lost_v: tuple[float, float]) -> Loss:
    kind = "brake" if other.function in HEAVY else "lamp"
    middle_v, most_v = lost_v
    return Loss(
        other.function,
        command.key,
        (one.socket, one.pin),
        (other.socket, other.pin),
        stated_v(f"light_check.added_socket.{kind}"),
        middle_v,
        most_v,
    )
