"""Set up a fresh machine and run the project: `python3 dev.py demo` (Windows: `py dev.py demo`).

Needs Python with pip, nothing else; everything it brings stays in `.tools` and `.venv`.
"""

import contextlib
import hashlib
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent
TOOLS, VENV, REQUIREMENTS = ROOT / ".tools", ROOT / ".venv", ROOT / "requirements"
WINDOWS = os.name == "nt"
BIN = VENV / ("Scripts" if WINDOWS else "bin")
STAMP = VENV / "stamp"
UV = "uv>=0.13,<0.14"
PYTHONS = ((3, 11), (3, 15))  # from, up to but not with: as in pyproject.toml

LINT = {
    "format": ["ruff", "format", "--check", "-q"],
    "lint": ["ruff", "check", "-q"],
    "types": ["mypy"],
    "layers": ["lint-imports", "--no-logo"],
}
UNCOMPILED = "PYTHONDONTWRITEBYTECODE"
"""Set, it makes each of the many programs that the tests start compile all it imports anew."""

USAGE = """\
usage: python3 dev.py COMMAND      (Windows: py dev.py COMMAND)

  demo    run the demo rig into demo-out, then open the workbench on it (Ctrl+C ends it);
          without a terminal, or in CI, only say how to open it
  test    everything a change must pass: format, lint, types, layers, all tests
  check   the same without the slow tests
  bench   measure the engine beside ngspice and write docs/benchmarks.md (some minutes)
  shots   photograph every screen of the workbench into the folder shots
  setup   only make .venv, with what the tests need
  lock    write requirements/*.txt anew from pyproject.toml
"""


class Stop(Exception):
    """Something is missing that the person must bring."""


def run(*command: object, env: "dict[str, str] | None" = None) -> None:
    """Run a command in the project folder; `subprocess.CalledProcessError` if it fails."""
    sys.stdout.flush()
    subprocess.run([str(part) for part in command], cwd=ROOT, check=True, env=env)


def uv() -> str:
    """Path of uv: from an earlier run, from PATH, or brought by pip into `.tools`."""
    ours = TOOLS / "bin" / ("uv.exe" if WINDOWS else "uv")
    if not ours.exists():
        found = shutil.which("uv")
        if found:
            return found
        print("Fetching uv, the installer, into .tools", flush=True)
        calm = {**os.environ, "PIP_ROOT_USER_ACTION": "ignore"}
        try:
            run(sys.executable, "-m", "pip", "install", "-q", "--target", TOOLS, UV, env=calm)
        except subprocess.CalledProcessError as failed:
            raise Stop(
                "pip could not fetch uv (see above). Without pip: "
                "'apt-get install python3-pip' on Debian, or install uv itself."
            ) from failed
    return str(ours)


def wanted_stamp() -> str:
    """Sum over what the environment is made from."""
    made_from = [ROOT / "pyproject.toml", REQUIREMENTS / "core.txt", REQUIREMENTS / "dev.txt"]
    digest = hashlib.sha256(str(ROOT).encode())
    for path in made_from:
        digest.update(path.read_bytes())
    return digest.hexdigest()


def set_up(kind: str) -> None:
    """Bring `.venv` to the locked state; `kind` is core or dev (dev serves for both)."""
    stamp = wanted_stamp()
    done = STAMP.read_text("utf-8").split() if STAMP.exists() else []
    if stamp in done and (kind in done or "dev" in done):
        return
    tool = uv()
    print(f"Setting up .venv from requirements/{kind}.txt (once)", flush=True)
    fits = PYTHONS[0] <= sys.version_info[:2] < PYTHONS[1]
    python = sys.executable if fits else ">=3.11,<3.15"
    if not (BIN / ("python.exe" if WINDOWS else "python")).exists():
        run(tool, "venv", "-q", "--clear", "--python", python, VENV)
    into = ["-q", "--python", VENV]
    run(tool, "pip", "sync", *into, "--require-hashes", REQUIREMENTS / f"{kind}.txt")
    run(tool, "pip", "install", *into, "--no-deps", "--no-build-isolation", "-e", ROOT)
    STAMP.write_text(f"{kind} {stamp}\n", "utf-8")


@dataclass(frozen=True)
class Program:
    """A program the tests use that pip cannot bring."""

    names: "tuple[str, ...]"
    what_for: str
    packages: "tuple[str, ...]"
    elsewhere: str


NGSPICE = Program(
    ("ngspice",),
    "the tests check the solver against ngspice",
    ("ngspice",),
    "'sudo apt-get install ngspice' (Debian, Ubuntu), 'sudo dnf install ngspice' (Fedora), "
    "'brew install ngspice' (macOS), or from ngspice.sourceforge.io (Windows)",
)
NGSPICE_LIBRARY = Program(
    (),
    "the benchmarks run ngspice as a library, built in with a C compiler",
    ("libngspice0-dev", "gcc", "libc6-dev"),
    "'sudo apt-get install libngspice0-dev gcc' (Debian, Ubuntu); elsewhere its header "
    "ngspice/sharedspice.h belongs in /usr/local/include, and 'python -m benchmarks' goes without",
)
NGSPICE_HEADERS = (
    "/usr/include/ngspice/sharedspice.h",
    "/usr/local/include/ngspice/sharedspice.h",
    "/opt/homebrew/include/ngspice/sharedspice.h",
)
CHROMIUM = Program(
    ("chromium", "chromium-browser", "google-chrome", "msedge"),
    "the tests of the screens use a real browser",
    ("chromium", "libatomic1"),
    "'sudo apt-get install chromium libatomic1' (Debian), 'sudo dnf install chromium' (Fedora), "
    "or set CHROMIUM to the path of any browser built on it",
)


def bring(program: Program) -> None:
    """Make sure a program is there, or say how to bring it."""
    if os.environ.get("CHROMIUM") and program is CHROMIUM:
        return
    if any(map(shutil.which, program.names)):
        return
    if shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        print(f"Installing {' '.join(program.packages)}: {program.what_for}", flush=True)
        quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        run("apt-get", "update", "-qq", env=quiet)
        install = ("apt-get", "install", "-y", "-qq", "--no-install-recommends")
        run(*install, *program.packages, env=quiet)
        return
    raise Stop(f"{program.what_for}, which is not on PATH. Install it: {program.elsewhere}.")


def bench() -> None:
    """Measure the engine beside ngspice and write docs/benchmarks.md."""
    set_up("dev")
    bring(NGSPICE)
    if not shutil.which("cc") or not any(Path(each).exists() for each in NGSPICE_HEADERS):
        bring(NGSPICE_LIBRARY)
    run(BIN / "python", "-m", "benchmarks")


def is_watched(stdin: bool, stdout: bool, environment: Mapping[str, str]) -> bool:
    """Return whether a person sits there: both ends are a terminal, and this is not CI."""
    return stdin and stdout and not environment.get("CI")


def demo() -> None:
    """Run the demo rig end to end, then open the workbench on it if a person sits there."""
    set_up("core")
    loomwright = BIN / "loomwright"
    run(loomwright, "demo", "demo-out")
    print()
    if is_watched(sys.stdin.isatty(), sys.stdout.isatty(), os.environ):
        serve(loomwright, "serve", "--demo", "--show")
    else:
        shown = f"{loomwright.relative_to(ROOT)} serve --demo --show"
        print(f"The workbench on the demo rig, in a browser: {shown}")


def serve(*command: object) -> None:
    """Run a server until it ends; Ctrl+C reaches it too, and it tidies up before it goes."""
    sys.stdout.flush()
    with subprocess.Popen([str(part) for part in command], cwd=ROOT) as server:
        while server.poll() is None:
            with contextlib.suppress(KeyboardInterrupt):
                server.wait()
    if server.returncode:
        raise subprocess.CalledProcessError(server.returncode, server.args)


@contextlib.contextmanager
def linting() -> "Iterator[Callable[[], list[str]]]":
    """Run format, lint, types and layers in the background; gives what waits, tells and names.

    What it gives prints each result and returns the names of those that failed.
    """
    with contextlib.ExitStack() as running:
        started = {
            name: running.enter_context(
                subprocess.Popen(
                    [str(BIN / command[0]), *command[1:]],
                    cwd=ROOT,
                    stdout=subprocess.PIPE,
                    stderr=subprocess.STDOUT,
                )
            )
            for name, command in LINT.items()
        }

        def failed() -> "list[str]":
            for name, process in started.items():
                print(f"== {name}: {' '.join(LINT[name])}", flush=True)
                tell(process.communicate()[0])
            return [name for name, process in started.items() if process.returncode]

        yield failed


def tell(said: bytes) -> None:
    """Print what a program said, in whatever letters it said it."""
    sys.stdout.buffer.write(said)
    sys.stdout.flush()


def test(*select: str) -> None:
    """Run format, lint, types and layers beside pytest, whose closing line comes last."""
    set_up("dev")
    colour = ["--color=yes"] if sys.stdout.isatty() else []
    words = [BIN / "pytest", "-q", "-n", "2", "--dist", "worksteal", *colour, *select]
    with linting() as lint:
        bring(NGSPICE)
        bring(CHROMIUM)
        with subprocess.Popen(
            [str(word) for word in words],
            cwd=ROOT,
            env={key: value for key, value in os.environ.items() if key != UNCOMPILED},
            stdout=subprocess.PIPE,
        ) as tests:
            failed = lint()
            if failed:
                print(f"== FAILED: {', '.join(failed)} (see above; the tests follow)", flush=True)
            print("== tests: pytest", flush=True)
            assert tests.stdout  # noqa: S101 (it is a pipe)
            while said := os.read(tests.stdout.fileno(), 65536):
                tell(said)
    if failed or tests.returncode:
        raise SystemExit(tests.returncode or 1)


def shots() -> None:
    """Photograph every screen into the folder `shots`."""
    set_up("dev")
    bring(CHROMIUM)
    run(BIN / "python", "-m", "tools.shots")


def lock() -> None:
    """Write the hash-locked requirements; `uv.lock` names registry hosts and stays here."""
    tool = uv()
    export = ["export", "-q", "--format", "requirements.txt", "--no-emit-project"]
    core = ["--no-default-groups", "--group", "build"]
    run(tool, "lock", "-q", "--upgrade")
    run(tool, *export, *core, "-o", "requirements/core.txt")
    run(tool, *export, "-o", "requirements/dev.txt")


def main(command: "list[str]") -> int:
    """Run the command named on the command line; 0 if all went well."""
    commands = {
        "demo": demo,
        "bench": bench,
        "test": test,
        "check": lambda: test("-m", "not slow"),
        "shots": shots,
        "setup": lambda: set_up("dev"),
        "lock": lock,
    }
    if len(command) != 1 or command[0] not in commands:
        print(USAGE, end="", file=sys.stderr)
        return 2
    try:
        commands[command[0]]()
    except Stop as stop:
        print(f"dev.py: {stop}", file=sys.stderr)
        return 1
    except subprocess.CalledProcessError as failed:
        return failed.returncode or 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
