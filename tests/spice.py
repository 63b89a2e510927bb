"""Runs decks through ngspice, the general circuit simulator that checks our own solver."""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
from pathlib import Path

_VALUE = re.compile(r"^(?P<node>\S+) = (?P<volts>[-+0-9.eE]+)\s*$")


def run_decks(decks: list[str]) -> list[dict[str, float]]:
    """Operating point of every deck, by one ngspice process: node name -> volts.

    A program that is not there fails the test that asks for it: the set-up installs it.
    """
    program = shutil.which("ngspice")
    assert program, "ngspice is not installed: run the set-up again, or install the package ngspice"
    with tempfile.TemporaryDirectory() as folder:
        control = Path(folder) / "control.cir"
        control.write_text(_control(decks, Path(folder)), encoding="ascii")
        run = subprocess.run(
            [program, "-b", str(control)], capture_output=True, text=True, check=False
        )
    said = run.stdout + run.stderr
    pieces = run.stdout.split("DECK ")[1:]
    assert len(pieces) == len(decks), said
    results = [_voltages(piece) for piece in pieces]
    assert all(results), said
    return results


def _control(decks: list[str], folder: Path) -> str:
    lines = ["* every deck in turn", ".control", "set numdgt=14"]
    for number, deck in enumerate(decks):
        path = folder / f"deck{number}.cir"
        path.write_text(deck, encoding="ascii")
        lines += [f"source {path}", "op", f"echo DECK {number}", "print allv"]
        lines += ["destroy all", "remcirc"]
    return "\n".join([*lines, ".endc", ".end", ""])


def _voltages(piece: str) -> dict[str, float]:
    found = (_VALUE.match(line) for line in piece.splitlines())
    return {match["node"]: float(match["volts"]) for match in found if match}
