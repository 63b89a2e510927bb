"""Memory that is used again: fresh memory costs the operating system's time at first touch."""

from __future__ import annotations

import numpy as np

from loomwright.circuit.batch import Floats


class Room:
    """Memory for tables that is used again from batch to batch."""

    def __init__(self) -> None:
        self._kept: dict[str, Floats] = {}

    def table(self, name: str, rows: int, cases: int) -> Floats:
        """Room for a table, with whatever was in it last."""
        kept = self._kept.get(name)
        if kept is None or kept.size < rows * cases:
            kept = self._kept[name] = np.empty(rows * cases)
        return kept[: rows * cases].reshape(rows, cases)
