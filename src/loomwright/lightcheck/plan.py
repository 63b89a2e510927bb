"""`plan_for`: the whole light check of a rig, with bands from what healthy rigs like it read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal

from loomwright.circuit.progress import Progress, Stop
from loomwright.electrics.commands import Command, commands_for
from loomwright.electrics.sockets import is_cut_off
from loomwright.electrics.stated import stated_v
from loomwright.invalid import InvalidInput, raise_all
from loomwright.lightcheck.asks import Ask, Asking, at_pin
from loomwright.lightcheck.bench import Bench, Held, has_breakaway, make_bench, probed_pins
from loomwright.lightcheck.drawn import Drawn, Reading, draw_numbers, solve_drawn
from loomwright.lightcheck.holding import CHOCKED, holding
from loomwright.lightcheck.model import Expectation, Plan, Step
from loomwright.lightcheck.number_asks import (
    BREAKAWAY_STEP,
    amps_asks,
    battery_asks,
    box_asks,
    breakaway_asks,
    loaded_asks,
    open_asks,
)
from loomwright.lightcheck.setting import Setting
from loomwright.lightcheck.solo import Alone, for_one
from loomwright.lightcheck.spread import Spread, spread_of
from loomwright.lightcheck.word_asks import probe_asks, seen_asks
from loomwright.reference.testers import Tester, find_testers
from loomwright.rig.model import Rig

SAMPLES: Final = 200
LEAST_SAMPLES, MOST_SAMPLES = 100, 20_000
NOTHING = Spread(0.0, 0.0, 0.0, 0.0, 0.0)
BREAKAWAY_PULLED = Command(BREAKAWAY_STEP, "breakaway pin pulled", (), engine_running=False)
NOT_ASKED = ("all",)
"""Everything at once is a load case, and nothing a person can look at."""


def plan_for(
    rig: Rig,
    tester: str,
    people: Literal[1, 2] = 2,
    *,
    setting: Setting | None = None,
    alone: Alone | None = None,
    socket: str | None = None,
    samples: int = SAMPLES,
    seed: int = 1,
    progress: Progress | None = None,
    cancelled: Stop | None = None,
) -> Plan:
    """Return the light check of a rig.

    Parameters
    ----------
    rig : Rig
        The rig.
    tester : str
        Key of a tester of the testers table, or several: ``trailer+meter+clamp``.
    people : {1, 2}
        How many do it; one walks between cab and rear in the order with the fewest walks.
    setting : Setting, optional
        What is known of engine, battery and air.
    alone : Alone, optional
        What helps one person: a prop for the pedal if not given.
    socket : str, optional
        The socket that is tested with the plug out; the one the trailer plugs into if not given.
    samples : int
        How many rigs the bands rest on, 100 to 20 000.
    seed : int
        0 or more; the same seed gives the same bands.
    progress : callable, optional
        Told how many cases of how many are done.
    cancelled : callable, optional
        Asked now and then whether to stop.

    Raises
    ------
    InvalidInput, ExceptionGroup
        If there is no such tester or socket, or a number cannot be used.
    Cancelled
        If `cancelled` said so.
    """
    asked = find_testers(tester)
    _check(rig, people, samples, seed, socket)
    known = setting or Setting()
    known.check(rig)
    bench = make_bench(rig, asked, known)
    asks = asks_for(bench, asked, socket)
    wanted: dict[Held, list[Reading]] = {}
    for ask in asks:
        if ask.reading is not None:
            wanted.setdefault(ask.held, []).append(ask.reading)
    numbers = draw_numbers(bench, samples, seed)
    drawn = solve_drawn(bench, wanted, numbers, progress=progress, cancelled=cancelled)
    steps = _steps(bench, known, [_made(ask, drawn) for ask in asks])
    plan = Plan(
        rig=rig.name,
        tester="+".join(each.key for each in asked),
        people=2,
        steps=steps,
        walks=0,
        cautions=_cautions(rig),
        not_tested=tuple(_not_tested(rig, asked)),
    )
    return plan if people == 2 else for_one(plan, alone or Alone())


def _check(rig: Rig, people: int, samples: int, seed: int, socket: str | None) -> None:
    problems = []
    if people not in (1, 2):
        problems.append(InvalidInput("people", people, "say 1 or 2"))
    if not LEAST_SAMPLES <= samples <= MOST_SAMPLES:
        fix = f"ask for {LEAST_SAMPLES} to {MOST_SAMPLES}"
        problems.append(InvalidInput("samples", samples, fix))
    if seed < 0:
        problems.append(InvalidInput("seed", seed, "give 0 or a whole number above"))
    names = [each.name for each in rig.sockets if not is_cut_off(rig, each)]
    if socket is not None and socket not in names:
        problems.append(InvalidInput("socket", socket, "use one of " + ", ".join(names)))
    raise_all(problems, "light check")


def checked_commands(rig: Rig) -> tuple[Command, ...]:
    """Return the commands a light check holds, in the order of the trade."""
    known = tuple(each for each in commands_for(rig) if each.key not in NOT_ASKED)
    return (*known, BREAKAWAY_PULLED) if has_breakaway(rig) else known


def live_pins(bench: Bench, commands: tuple[Command, ...]) -> dict[str, frozenset[tuple[str, str]]]:
    """Return for each command the pins that carry volts with the plug out, nominal rig.

    Parameters
    ----------
    bench : Bench
        The rig.
    commands : tuple of Command
        What the driver does.
    """
    pins = probed_pins(bench.wiring)
    held = {each.key: Held(each, plugged=False) for each in commands}
    wanted = {each: [at_pin(pin) for pin in pins] for each in held.values()}
    drawn = solve_drawn(bench, wanted, draw_numbers(bench, 0, 0))
    dead_v = stated_v("light_check.dead_pin")
    return {
        key: frozenset(
            (pin.socket, pin.pin) for pin in pins if abs(drawn.at(each, at_pin(pin))[0]) > dead_v
        )
        for key, each in held.items()
    }


def asks_for(
    bench: Bench,
    testers: tuple[Tester, ...],
    socket: str | None = None,
) -> list[Ask]:
    """Return everything asked of some testers, before any band is known.

    Parameters
    ----------
    bench : Bench
        The rig.
    testers : tuple of Tester
        What is at hand.
    socket : str, optional
        The socket that is tested with the plug out; the one the trailer plugs into if not given.
    """
    towing = bench.wiring.rig.towing
    return list(_asks(bench, testers, socket or towing))


def _asks(bench: Bench, testers: tuple[Tester, ...], socket: str) -> Iterator[Ask]:
    commands = checked_commands(bench.wiring.rig)
    live = live_pins(bench, commands)
    for command in commands:
        for tester in testers:
            asking = Asking(bench, command, tester, socket, live[command.key], live["rest"])
            if command.key == BREAKAWAY_STEP:
                yield from breakaway_asks(asking)
            else:
                yield from _asks_of(asking)


def _asks_of(asking: Asking) -> Iterator[Ask]:
    """Whatever a tester can tell under a command."""
    tester = asking.tester
    if tester.loads == "trailer" and "words" in tester.sees:
        yield from seen_asks(asking)
    if tester.loads == "one pin":
        yield from probe_asks(asking)
    if tester.loads == "every pin":
        yield from box_asks(asking)
    if tester.loads == "none":
        yield from open_asks(asking)
        yield from loaded_asks(asking)
        yield from battery_asks(asking)
    if "amps" in tester.sees:
        yield from amps_asks(asking)


def _made(ask: Ask, drawn: Drawn) -> Expectation:
    if ask.reading is None:
        return ask.make(NOTHING)
    return ask.make(spread_of(drawn.at(ask.held, ask.reading)))


def _steps(bench: Bench, setting: Setting, expectations: list[Expectation]) -> tuple[Step, ...]:
    """One step for each command that shows something, plug out first."""
    steps = []
    for command in checked_commands(bench.wiring.rig):
        mine = [each for each in expectations if each.command == command.key]
        if mine:
            mine.sort(key=lambda each: each.plugged)
            how = holding(command, setting)
            steps.append(
                Step(
                    key=command.key,
                    command=command.key,
                    hold=how.hold,
                    stays=how.keeps != "held",
                    at=mine[0].at,
                    expectations=tuple(mine),
                    caution=how.caution,
                )
            )
    return tuple(steps)


def _cautions(rig: Rig) -> tuple[str, ...]:
    found = [
        CHOCKED,
        "Keep probes off airbag, data and high-voltage wires: lamp feeds and pins only.",
    ]
    if rig.trailer.brakes:
        found.append("Nobody under or between the wheels while brakes are tried.")
    if rig.trailer.battery is not None or rig.trailer.breakaway is not None:
        found.append("The trailer has a battery: its wires are live with the plug out.")
    return tuple(found)


def _not_tested(rig: Rig, testers: tuple[Tester, ...]) -> Iterator[str]:
    """What these testers cannot tell, so that nobody takes it for proved."""
    sees = {sight for each in testers for sight in each.sees}
    if not {"volts", "drop"} & sees:
        yield "volts and ground drop: no meter"
    if rig.trailer.brakes and "amps" not in sees:
        yield "brake amps: no clamp meter"
    if rig.trailer.brakes and not {"brakes", "amps"} & sees:
        yield "whether each brake pulls"
    if not any(each.loads == "trailer" for each in testers):
        yield "the trailer's own lamps: only the socket is looked at"
    if all(each.loads in ("none", "one pin") and not each.wakes for each in testers):
        yield "weak joints: nothing loads the pins"
    if rig.trailer.breakaway is not None and not {"brakes", "amps"} & sees:
        yield "the breakaway pin"
