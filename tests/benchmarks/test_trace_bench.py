"""The measuring of trace runs, at a tiny size: both executors and ngspice solve the same faults."""

from pathlib import Path

import pytest
from benchmarks.trace import main


@pytest.mark.slow
def test_a_tiny_run_writes_the_page(tmp_path: Path) -> None:
    file = tmp_path / "trace.md"

    assert main(["--tiny", "--output", str(file)]) == 0

    text = file.read_text("utf-8")
    assert "| ready from the rig" in text
    assert "pairs x" in text
    assert "ngspice" in text
