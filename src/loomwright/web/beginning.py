"""Beginning a rig: the starter of a kind of job, under a name of its own."""

from __future__ import annotations

from loomwright import examples
from loomwright.rig.edit import write_value


def begun_text(kind: str, name: str = "") -> str:
    """Return the job file a rig of one kind begins with.

    Raises
    ------
    InvalidInput
        If there is no such kind.
    """
    text, called = examples.starter(kind), " ".join(name.split())
    return write_value(text, "rig.name", called) if called else text
