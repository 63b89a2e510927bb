"""Reading in tests: what was refused, by path; and the smallest job there is."""

from collections.abc import Mapping

import pytest

from loomwright.invalid import InvalidInput
from loomwright.rig.read import read_rig

SMALLEST = """\
[[socket]]
connector = "4-flat"

[trailer]
"""


def refused(text: str, file: str = "job.toml") -> Mapping[str, InvalidInput]:
    """Read a file that cannot be used and return each problem by its path."""
    with pytest.raises(ExceptionGroup) as caught:
        read_rig(text, file)
    problems = caught.value.exceptions
    assert all(isinstance(each, InvalidInput) for each in problems)
    return {each.field: each for each in problems if isinstance(each, InvalidInput)}
