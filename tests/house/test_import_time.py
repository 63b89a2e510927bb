"""Starting the program stays quick: the heavy libraries wait until a command needs them."""

import json
import subprocess
import sys

import pytest

HEAVY = {
    "fastapi",
    "numpy",
    "pydantic",
    "scipy",
    "sqlalchemy",
    "tomlkit",
    "typst",
    "uvicorn",
    "vininfo",
}


@pytest.mark.parametrize("module", ["loomwright", "loomwright.cli"])
def test_importing_the_package_brings_in_no_heavy_library(module: str) -> None:
    code = f"import {module}, json, sys; print(json.dumps(sorted(sys.modules)))"
    answer = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )

    assert HEAVY.isdisjoint(json.loads(answer.stdout))
