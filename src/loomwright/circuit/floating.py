"""What floats: nodes that no way leads from to the reference."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.batch import Floats
from loomwright.circuit.elimination import ties_to_reference
from loomwright.circuit.layout import Shape

HELD_S: Final = 1e-5
"""A node tied to the reference by less than this floats: a meter on it reads nothing sure. [S]"""


def held_nodes(shape: Shape, values: Floats, tie_s: Floats) -> NDArray[np.bool_]:
    """Which nodes are within reach of the reference over 1e-5 S or more, shape (node, case)."""
    count = values.shape[1]
    program = shape.program
    ties = np.concatenate([values[[edge.row for edge in shape.linear]], tie_s]) >= HELD_S
    packed = np.packbits(ties, axis=1, bitorder="little")
    tied = [0] * program.slots
    for slot, bits in zip(program.branch_slots, packed, strict=True):
        tied[slot] |= int.from_bytes(bits.tobytes(), "little")
    held = ties_to_reference((*program.linear, *program.core), tied, program)
    size = packed.shape[1]
    raw = b"".join(bits.to_bytes(size, "little") for bits in held)
    table = np.frombuffer(raw, dtype=np.uint8).reshape(program.nodes, size)
    return np.unpackbits(table, axis=1, count=count, bitorder="little").astype(bool)
