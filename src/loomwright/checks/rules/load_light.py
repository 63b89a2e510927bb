"""LOAD01: loads too light for the vehicle to notice."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.module_loads import module_currents
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import circuits
from loomwright.quantities import show_current
from loomwright.reference.loads import socket_limit

CODE = "LOAD01"
SOURCE = "socket-load-table"


def loads_too_light(work: Work) -> Iterator[Finding]:
    """Flag trailer lamps too light for a trailer module to notice.

    A module senses stop and turn lamps to know that a trailer is there: 0.10 A for stop, 0.05 A
    for a turn signal. LED lamps can stay under that.
    """
    light = []
    for function, (current_a, command) in module_currents(work).items():
        row = socket_limit(function)
        if row is not None and row.min_a is not None and current_a < row.min_a:
            light.append((function, current_a, row.min_a, command))
    if not light:
        return
    function, current_a, least_a, command = min(light, key=lambda each: each[1] / each[2])
    yield Finding(
        rule=CODE,
        severity=Severity.SHOULD,
        where=f"trailer, {circuits([function])}",
        says=f"Too light for the vehicle's trailer module: {circuits(each[0] for each in light)}. "
        f"The lightest draws {show_current(current_a)}; {show_current(least_a)} is the least it "
        "notices.",
        why="The module takes the trailer for absent: no telltale, and functions may stay off.",
        fix="Fit a load resistor or a module for LED trailers, as the vehicle's maker states.",
        source=SOURCE,
        value=current_a,
        limit=least_a,
        unit="A",
        station="load",
        command=command,
        standing="common practice",
    )


RULE = Rule(CODE, "Load too light to be noticed", SOURCE, loads_too_light)
