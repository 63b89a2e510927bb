"""The measuring of trace runs, at a tiny size: both executors and ngspice solve the same faults."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.slow
def test_a_tiny_run_writes_the_page(tmp_path: Path) -> None:
    """In a process of its own: the library of ngspice can be begun but once in each."""
    file = tmp_path / "trace.md"
    command = (sys.executable, "-m", "benchmarks.trace", "--tiny", "--output", str(file))

    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr
    text = file.read_text("utf-8")
    assert "| ready from the rig" in text
    assert "pairs x" in text
    assert "ngspice" in text
