"""LOAD02: loads too heavy for the vehicle's trailer module."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.module_loads import module_currents
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuit, command_title
from loomwright.quantities import show_current
from loomwright.reference.loads import socket_limit

CODE = "LOAD02"
SOURCE = "socket-load-table"


def loads_too_heavy(work: Work) -> Iterator[Finding]:
    """Flag each lamp circuit that takes more than a trailer module gives.

    5 A for each turn signal and for tail, reverse and fog lamps, 10 A for stop: figures of one
    owner's manual, as common practice. The manual of the vehicle at hand comes first.
    """
    for function, (current_a, command) in module_currents(work).items():
        row = socket_limit(function)
        if row is None or row.max_a is None or current_a <= row.max_a:
            continue
        yield Finding(
            rule=CODE,
            severity=Severity.MUST,
            where=f"trailer, {circuit(function)}",
            says=f"{capital(circuit(function))} take {show_current(current_a)} under "
            f"{command_title(command)}; a trailer module usually gives {show_current(row.max_a)}.",
            why="The module switches an overloaded output off.",
            fix="Look up the output limit in the vehicle's manual; if it is less, fit lamps that "
            "take less, or a powered converter.",
            source=row.source,
            value=current_a,
            limit=row.max_a,
            unit="A",
            station="load",
            command=command,
            standing=row.standing,
        )


RULE = Rule(CODE, "Load too heavy for the trailer module", SOURCE, loads_too_heavy)
