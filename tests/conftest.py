"""Settings every test shares: property tests are the same on every run, and explore on demand."""

import os
import sys

import pytest
from hypothesis import HealthCheck, settings

os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
"""Set, it makes each of the many programs that the tests start compile all it imports anew."""

sys.dont_write_bytecode = False

settings.register_profile(
    "steady",
    derandomize=True,
    deadline=None,
    max_examples=40,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "explore", deadline=None, max_examples=3000
)  # --hypothesis-profile=explore
settings.load_profile("steady")


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin the longest tests first, so that none is alone at the end of a run on two cores."""
    items.sort(
        key=lambda item: [item.get_closest_marker(mark) is None for mark in ("first", "slow")]
    )
