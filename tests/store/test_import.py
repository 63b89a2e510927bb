"""The database waits until somebody needs it."""

import json
import subprocess
import sys

import pytest


@pytest.mark.parametrize("module", ["loomwright", "loomwright.cli", "loomwright.store"])
def test_starting_the_program_brings_in_no_database(module: str) -> None:
    code = f"import {module}, json, sys; print(json.dumps(sorted(sys.modules)))"
    answer = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )

    assert {"sqlalchemy", "alembic", "psycopg", "sqlite3"}.isdisjoint(json.loads(answer.stdout))
