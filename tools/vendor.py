"""Fetch the browser scripts that the workbench carries: `.venv/bin/python tools/vendor.py`.

Needs npm, and the network, once for each new version; neither is needed to run or to test. Writes
`VENDOR.toml` beside the files, with version, licence and sha256 of each.
"""

import hashlib
import shutil
import subprocess
import sys
import tarfile
import tempfile
from dataclasses import dataclass
from pathlib import Path

TARGET = Path(__file__).parent.parent / "src" / "loomwright" / "web" / "static" / "vendor"
NPM_LICENCES = {"htmx.org": "0BSD"}


@dataclass(frozen=True, slots=True)
class Carried:
    """A package of the npm registry, and what is taken from it: path inside, name here."""

    package: str
    version: str
    files: tuple[tuple[str, str], ...]


CARRIED = (
    Carried(
        package="htmx.org",
        version="4.0.1",
        files=(
            ("package/dist/htmx.min.js", "htmx.min.js"),
            ("package/dist/ext/hx-sse.min.js", "hx-sse.min.js"),
            ("package/LICENSE", "htmx.LICENSE.txt"),
        ),
    ),
)


def fetch(carried: Carried, folder: Path) -> Path:
    """Return the archive of a package, fetched into a folder."""
    npm = shutil.which("npm")
    if npm is None:
        raise SystemExit("npm is not on PATH: install Node.js, only to fetch new versions")
    wanted = f"{carried.package}@{carried.version}"
    subprocess.run([npm, "pack", "--silent", wanted], cwd=folder, check=True)  # noqa: S603 our own words
    (archive,) = folder.glob("*.tgz")
    return archive


def unpack(carried: Carried, archive: Path) -> list[str]:
    """Copy what is carried out of an archive; return the lines that tell of it."""
    lines = []
    with tarfile.open(archive) as packed:
        for inside, name in carried.files:
            content = packed.extractfile(inside)
            if content is None:
                raise SystemExit(f"{archive.name} has no {inside}")
            data = content.read()
            (TARGET / name).write_bytes(data)
            lines += [
                "[[file]]",
                f'name = "{name}"',
                f'from = "npm package {carried.package}, {inside}"',
                f'version = "{carried.version}"',
                f'licence = "{NPM_LICENCES[carried.package]}"',
                f'sha256 = "{hashlib.sha256(data).hexdigest()}"',
                "",
            ]
    return lines


def main() -> int:
    """Bring every package and write down what was brought."""
    TARGET.mkdir(parents=True, exist_ok=True)
    lines = ["# Written by tools/vendor.py; a test compares each file with its sum.", ""]
    for carried in CARRIED:
        with tempfile.TemporaryDirectory() as folder:
            lines += unpack(carried, fetch(carried, Path(folder)))
    (TARGET / "VENDOR.toml").write_text("\n".join(lines), encoding="utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
