"""Run the benchmarks: `python -m benchmarks`, or `make bench` with what it needs."""

import argparse
import os
import sys
import tempfile
from datetime import date
from pathlib import Path

ONE_THREAD = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS", "NUMBA_NUM_THREADS")
PAGE = Path(__file__).resolve().parent.parent / "docs" / "benchmarks.md"


def main(arguments: list[str]) -> int:
    """Measure, showing how far it is, and write the page; 0 if all went well."""
    os.environ.update(dict.fromkeys(ONE_THREAD, "1"))  # read when NumPy loads, below
    from benchmarks.running import Run, run
    from benchmarks.workloads import TINY, Size

    parser = argparse.ArgumentParser(prog="python -m benchmarks", description=__doc__)
    parser.add_argument("--rounds", type=int, default=Size().rounds, help="rounds of measuring")
    parser.add_argument("--tiny", action="store_true", help="only see whether it runs")
    parser.add_argument("--output", type=Path, default=PAGE, help="page to write")
    given = parser.parse_args(arguments)
    size = TINY if given.tiny else Size(rounds=given.rounds)
    with tempfile.TemporaryDirectory() as folder:
        text = run(Run(size, Path(folder), date.today(), _say))
    given.output.write_text(text, "utf-8")
    _say(f"wrote {given.output}")
    return 0


def _say(text: str) -> None:
    print(text, file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
