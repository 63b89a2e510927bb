"""ngspice in this process, as the peer our solver is measured against.

Needs Debian's `libngspice0-dev` and a C compiler. The shim keeps every callback in C, so the
simulator is never held up by Python; values are read only when asked for.
"""

from __future__ import annotations

import ctypes
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

SHIM = Path(__file__).with_name("ngspice_shim.c")


class NoNgspice(RuntimeError):
    """The library, its header or a C compiler is missing."""


class NgspicePeer:
    """One ngspice in this process, with one deck loaded.

    Parameters
    ----------
    folder : Path
        Where the compiled shim is put.
    compiler : str
        The C compiler.

    Raises
    ------
    NoNgspice
        If the shim cannot be compiled, saying what to install.
    """

    def __init__(self, folder: Path, compiler: str = "cc") -> None:
        library = folder / "ngspice_shim.so"
        program = shutil.which(compiler)
        if program is None:
            raise NoNgspice("no C compiler: install gcc")
        options = ["-O2", "-shared", "-fPIC", str(SHIM), "-o", str(library), "-lngspice"]
        made = subprocess.run([program, *options], capture_output=True, text=True, check=False)
        if made.returncode:
            raise NoNgspice(f"the shim does not compile: install libngspice0-dev\n{made.stderr}")
        self._shim = ctypes.CDLL(str(library))
        if self._shim.peer_start():
            raise RuntimeError("ngspice did not start")

    def load(self, deck: str) -> None:
        """Load a deck in place of the one before."""
        lines = [line for line in deck.splitlines() if line.strip()]
        self._shim.peer_load(_strings([*lines, None]))

    def run(self, commands: Sequence[str]) -> None:
        """Run commands such as ``alter r1 = 5`` and ``op``."""
        if self._shim.peer_run(_strings(commands), len(commands)):
            raise RuntimeError(f"ngspice refused one of {commands[:3]}")

    def prepared(self, commands: Sequence[str]) -> PreparedRun:
        """Return the same commands as C strings, so that a timed run does not build them."""
        return PreparedRun(self._shim, _strings(commands), len(commands))

    def voltages_v(self, nodes: Sequence[str]) -> list[float]:
        """Read the voltages of the last operating point. [V]"""
        values = (ctypes.c_double * len(nodes))()
        if self._shim.peer_read(_strings(nodes), values, len(nodes)):
            raise RuntimeError("ngspice does not know one of these nodes")
        return list(values)


class PreparedRun:
    """Commands ready to be run without a Python object made."""

    def __init__(self, shim: ctypes.CDLL, commands: object, count: int) -> None:
        self._shim, self._commands, self._count = shim, commands, count

    def __call__(self) -> None:
        """Run them."""
        if self._shim.peer_run(self._commands, self._count):
            raise RuntimeError("ngspice refused a command")


def _strings(texts: Sequence[str | None]) -> ctypes.Array[ctypes.c_char_p]:
    return (ctypes.c_char_p * len(texts))(
        *(None if text is None else text.encode("ascii") for text in texts)
    )
