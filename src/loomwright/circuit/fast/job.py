"""What compiled code works on, besides the program."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.answers import Asked, Swept

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]


class Bases(NamedTuple):
    """Numbers of the base cases: values (row, base), parameters (parameter x load, base).

    As many columns as a block has cases can be read from any base on: the last base stands there
    again and again. With `is_of_one_law` the parameters have one column, for all bases.
    """

    values: Floats
    parameters: Floats
    is_of_one_law: bool


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
    """What is asked, the tables it goes into, and the column there of every case."""

    asked: Asked
    swept: Swept
    columns: Wholes


class Job(NamedTuple):
    """Program, as `Packed.folded` has it, base cases, cases, and where the answers go."""

    program: Wholes
    bases: Bases
    batch: Batch
    answers: Answers
