"""What compiled code works on, besides the program."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.fast.packing import Packed

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]


class Bases(NamedTuple):
    """Numbers of the base cases: values (base, row), parameters (base, load x parameter)."""

    values: Floats
    parameters: Floats


class Batch(NamedTuple):
    """Cases to solve; see `Cases`. `start_v` has shape (known, load); `which` numbers the cases."""

    which: Wholes
    base: NDArray[np.int32]
    near: NDArray[np.int32]
    edit_rows: NDArray[np.int32]
    edits: Floats
    given_rows: NDArray[np.int32]
    given: Floats
    start_v: Floats


class Answers(NamedTuple):
    """Where the answers go; see `Swept`. `pairs` has shape (pair, 2)."""

    pairs: Wholes
    voltages_v: Floats
    floating: NDArray[np.bool_]
    load_v: Floats
    residual_a: Floats
    rounds: NDArray[np.int32]
    settled: NDArray[np.bool_]


class Job(NamedTuple):
    """Program, base cases, cases, and where the answers go."""

    packed: Packed
    bases: Bases
    batch: Batch
    answers: Answers
