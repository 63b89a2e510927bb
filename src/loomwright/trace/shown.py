"""The readings of a rig with a fault in it, for the drawings that show readings of a rig."""

from __future__ import annotations

from dataclasses import replace

from loomwright.circuit.faults import Bridged, Opened, Resisted, Shorted, Swapped
from loomwright.electrics.answers import CommandAnswer, Part
from loomwright.electrics.commands import commands_for, find_command
from loomwright.electrics.solved import answer
from loomwright.electrics.wiring import wire_up
from loomwright.rig.model import Rig
from loomwright.trace.bench import make_bench
from loomwright.trace.faulted import faulted
from loomwright.trace.model import RigFault


def faulted_answer(rig: Rig, fault: RigFault, command: str) -> CommandAnswer:
    """Return what is read on a rig under a command with a fault in it.

    Parameters
    ----------
    rig : Rig
        The rig.
    fault : RigFault
        One of its faults, as `faults_in` finds them.
    command : str
        Key of a command, or of the dark half of a flash.

    Raises
    ------
    InvalidInput
        If there is no such command.
    """
    bench = make_bench(rig)
    wiring = bench.wiring
    meant = find_command(command, (*commands_for(rig), *bench.commands))
    network = faulted(wiring.network, fault.changes)
    known = {element.name for element in wiring.network.elements}
    added = {
        element.name: Part(element.name, "joint", "supply", "", fault.part, fault.circuit, "fault")
        for element in network.elements
        if element.name not in known
    }
    changed = replace(wiring, network=network, parts={**wiring.parts, **added})
    return answer(changed, meant)


def is_drawn(rig: Rig, fault: RigFault) -> bool:
    """Whether a fault of this rig changes something that its network can show.

    Parameters
    ----------
    rig : Rig
        The rig.
    fault : RigFault
        A fault, of this rig or of one like it.
    """
    if not fault.changes:
        return False
    return set(elements_at(fault)) <= set(wire_up(rig).parts)


def elements_at(fault: RigFault) -> tuple[str, ...]:
    """Return the elements of the network that a fault is at; none for two nodes that touch.

    Parameters
    ----------
    fault : RigFault
        The fault.
    """
    names: list[str] = []
    for change in fault.changes:
        match change:
            case Opened(element=name) | Resisted(element=name) | Shorted(element=name):
                names.append(name)
            case Swapped(first=first, second=second):
                names += first, second
            case Bridged():
                pass
    return tuple(names)
