"""The command line: thin words around the same uses that Python has."""

from __future__ import annotations

from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit code.

    0: done, nothing to mend. 1: `check` found something to mend. 2: the input cannot be used.
    """
    from loomwright.cli.app import run

    return run(arguments)
