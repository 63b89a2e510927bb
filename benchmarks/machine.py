"""What was measured on: machine and versions."""

from __future__ import annotations

import os
import platform
import re
import shutil
import subprocess
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path


def machine() -> dict[str, str]:
    """Return what the page says of the machine."""
    return {
        "processor": _processor(),
        "cores": str(os.cpu_count()),
        "Python": platform.python_version(),
        "NumPy": _version("numpy"),
        "numba": _version("numba"),
        "ngspice": _ngspice(),
    }


def _processor() -> str:
    known = Path("/proc/cpuinfo")
    text = known.read_text("utf-8") if known.exists() else ""
    found = re.search(r"^model name\s*:\s*(.+)$", text, re.M)
    return found[1] if found else platform.processor() or platform.machine()


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "not installed"


def _ngspice() -> str:
    program = shutil.which("ngspice")
    if program is None:
        return "unknown"
    said = subprocess.run([program, "--version"], capture_output=True, text=True, check=False)
    found = re.search(r"ngspice-(\S+)", said.stdout + said.stderr)
    return found[1] if found else "unknown"
