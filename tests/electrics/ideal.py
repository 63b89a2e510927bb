"""Rigs without resistance but in the place a hand calculation looks at."""

from loomwright.circuit import Case
from loomwright.electrics.answers import CommandAnswer
from loomwright.electrics.commands import commands_for, find_command
from loomwright.electrics.solved import answer
from loomwright.electrics.wiring import Wiring

NONE_OHM = 1e-7


def only(wiring: Wiring, *kept: str, **resistance_ohm: float) -> Case:
    """Everything but loads without resistance; kept: elements as wired; then values by name."""
    ohms = {
        name: NONE_OHM
        for name, part in wiring.parts.items()
        if part.kind != "load" and name not in kept
    }
    return Case(resistance_ohm=ohms | resistance_ohm)


def solved(wiring: Wiring, command: str, changes: Case | None = None) -> CommandAnswer:
    """Solve a command said in words."""
    meant = find_command(command, commands_for(wiring.rig))
    return answer(wiring, meant, changes or Case())
