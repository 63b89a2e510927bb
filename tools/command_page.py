"""The page on commands and conditions, made from the code that solves them."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright import read_rig
from loomwright.electrics.commands import COMMANDS, WORDS, Command
from loomwright.electrics.conditions import Conditions, conditions_for
from loomwright.reference.defaults import Default, defaults
from loomwright.reference.functions import functions
from loomwright.rig.model import Live, Rig

COMBINED = frozenset({"left_stop_turn", "right_stop_turn"})
SEPARATE = frozenset({"left_turn", "right_turn", "stop"})

JOB = """\
[[socket]]
connector = "7-blade"
[trailer]
condition = "aged"
[[trailer.lamp]]
lights = { tail = "1157 minor" }
"""

HEAD = """\
# Commands and conditions

A rig is one circuit. A **command** is what the driver does with it; a **condition** is the state of
everything else. Every command is solved under every condition.

## Commands

A command closes the feeds of the vehicle whose function it calls for. A vehicle with **combined**
signals has one wire for stop and turn on each side; one with **separate** signals has a wire for
each. Signals are taken in their lit half.
"""

AFTER_COMMANDS = """\
A combination closes what both close: `park+left`, `park+brake_pedal`. These two pairs tell most
about a shared ground.

Not every rig has every command: `reverse` and `fog` only where a feed, a lead or a lamp has that
function; `brake_lever` only with a brake controller or electric brakes; `charge` only where a feed
is live by itself. With a controller whose lever lights the stop lamps, `brake_lever` closes the
stop lamps too. `brake` carries nothing without a brake controller.

`loomwright netlist` takes a command as people say it: besides its key and its title, these words
are understood.
"""

AFTER_LIVE = """\
A converter's outputs follow its inputs: see the tables `signal-converters` and `converter-logic`.
Combining, a turn signal goes before the stop lamps. Splitting, a steady wire means stop and a
flashing one its own turn signal.

## Conditions
"""

AFTER_CONDITIONS = """\
A reading's band runs from its lowest to its highest value over these conditions. `nominal` is what
the meter should show; `dim` is the worst for lamps and brakes; `heavy` is the worst for wires and
fuses.

The voltages are those of `[vehicle.supply]` where the job file says them. These values stand in
where it does not, and for what it cannot say:
"""

SHOWN_DEFAULTS = ("supply.12.", "supply.24.", "temperature.")


def command_page() -> str:
    """Return the page."""
    rig = read_rig(JOB)
    commands = [HEAD, *_commands(), AFTER_COMMANDS, *_said(), *_live(), AFTER_LIVE]
    conditions = [*_conditions(rig), AFTER_CONDITIONS, *_values(), *_ages()]
    return "\n".join([*commands, *conditions])


def _commands() -> Iterator[str]:
    yield "| command | the driver has | combined signals close | separate signals close | engine |"
    yield "| --- | --- | --- | --- | --- |"
    for command in COMMANDS:
        engine = "running" if command.engine_running else "off"
        combined, separate = _closed(command, SEPARATE), _closed(command, COMBINED)
        yield f"| `{command.key}` | {command.title} | {combined} | {separate} | {engine} |"
    yield ""


def _closed(command: Command, others: frozenset[str]) -> str:
    closed = [f"`{each}`" for each in command.functions if each not in others]
    return ", ".join(closed) or "nothing"


def _said() -> Iterator[str]:
    yield "| word | means |"
    yield "| --- | --- |"
    for act in dict.fromkeys(WORDS.values()):
        words = ", ".join(word for word, meant in WORDS.items() if meant == act)
        yield f"| {words} | {f'`{act}`' if act else 'nothing more'} |"
    yield ""


def _live() -> Iterator[str]:
    yield "### Feeds that need no command\n"
    yield "`live` of a feed says when it carries voltage. Left out, it follows the function:\n"
    yield "| function | live | what it is (standing: source) |"
    yield "| --- | --- | --- |"
    for row in defaults():
        if row.key.startswith("feed.") and row.key.endswith(".live"):
            yield f"| {row.key.split('.')[1]} | `{row.value_text}` | {_origin(row)} |"
    meant = {
        Live.COMMAND: "when a command calls for the function",
        Live.ALWAYS: "always, engine off as well",
        Live.IGNITION: "with the key on, so under every command but `rest`",
        Live.ENGINE: "with the engine running, so never under `engine-off`",
    }
    yield ""
    yield from (f"- `{live}`: {meant[live]}." for live in Live)
    yield ""


def _conditions(rig: Rig) -> Iterator[str]:
    yield "| condition | in words | voltage | engine | wire | brake magnets | contacts | fuses |"
    yield "| --- | --- | --- | --- | ---: | ---: | --- | --- |"
    for each in conditions_for(rig):
        engine = "running" if each.engine_running else "off"
        yield (
            f"| `{each.key}` | {each.title}: {each.says} | {_supply(rig, each)} | {engine} "
            f"| {each.wire_c:.0f} °C | {each.magnet_c:.0f} °C | {_age(rig, each)} | {each.fuses} |"
        )
    yield ""


def _supply(rig: Rig, each: Conditions) -> str:
    """Which of the supply's voltages it is, found by its value."""
    supply = rig.vehicle.supply
    named = {"resting": supply.resting_v, "running": supply.running_v, "idle": supply.idle_v}
    named |= {"low": supply.low_v, "high": supply.high_v}
    found = [name for name, value in named.items() if value == each.emf_v]
    return "the lower of `idle` and `low`" if each.key == "dim" else f"`{found[0]}`"


def _age(rig: Rig, each: Conditions) -> str:
    fixed = each.key in ("dim", "heavy")
    return each.contacts if fixed else "as `condition` of the trailer"


def _values() -> Iterator[str]:
    yield "| what | value | what it is (standing: source) |"
    yield "| --- | --- | --- |"
    for row in defaults():
        if row.key.startswith(SHOWN_DEFAULTS):
            yield f"| `{row.key}` | {row.value_text} | {_origin(row)} |"
    yield ""


def _ages() -> Iterator[str]:
    yield "New and aged resistances of joints and contacts stand in the table `joint-kinds`, of"
    yield "fuses in `fuse-resistances`.\n"
    yield "## Functions\n"
    yield "| function | what it carries | made of |"
    yield "| --- | --- | --- |"
    for row in functions():
        yield f"| `{row.key}` | {row.title} | {', '.join(f'`{part}`' for part in row.parts)} |"
    yield ""


def _origin(row: Default) -> str:
    return f"{row.says} ({row.standing}: {row.source})"
