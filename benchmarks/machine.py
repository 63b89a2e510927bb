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
        "lanes": _lanes(),
        "cores": str(os.cpu_count()),
        "Python": platform.python_version(),
        "NumPy": _version("numpy"),
        "numba": _version("numba"),
        "ngspice": _ngspice(),
    }


def load() -> float:
    """Return how many programs want a core, the mean of the last minute; 0 where unknown."""
    return os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0


def _processor() -> str:
    text = _processors()
    found = re.search(r"^model name\s*:\s*(.+)$", text, re.M)
    return found[1] if found else platform.processor() or platform.machine()


def _lanes() -> str:
    """Numbers the processor works on at once, which decides much of the compiled code's speed."""
    flags = _processors()
    wide = [name for name in ("avx512f", "avx2") if re.search(rf"\b{name}\b", flags)]
    return {"avx512f": "8 (AVX-512)", "avx2": "4 (AVX2)"}[wide[0]] if wide else "unknown"


def _processors() -> str:
    known = Path("/proc/cpuinfo")
    return known.read_text("utf-8") if known.exists() else ""


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
