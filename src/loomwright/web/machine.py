"""The machine it runs on: its folder for data, its secret, its addresses in the network."""

from __future__ import annotations

import contextlib
import locale
import os
import secrets
import socket
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from loomwright.invalid import InvalidInput
from loomwright.quantities import Units

SECRET_FILE = "session.secret"  # noqa: S105 the name of the file, not the secret
STORE_FILE = "shop.loomwright"
OWNER_ONLY = 0o600
FEET_AND_POUNDS = ("US", "LR", "MM")
"""Countries that measure in US units; common practice."""

SOMEWHERE = ("192.0.2.1", 9)  # RFC 5737: an address for examples; nothing is sent to it


def data_folder() -> Path:
    """Return the folder where this user's programs keep their data, with our name."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", Path.home())) / "Loomwright"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "Loomwright"
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local/share") / "loomwright"


def prepared(folder: Path) -> Path:
    """Return a folder for the shop's data, made if it was not there.

    Raises
    ------
    InvalidInput
        If it cannot be made or written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as problem:
        fix = f"name a folder that can be written ({problem.strerror})"
        raise InvalidInput("data", str(folder), fix) from None
    return folder


@dataclass(frozen=True, slots=True)
class Place:
    """Where a shop's data is: its folder, and the store."""

    folder: Path
    store: str | Path


def place_of(data: Path | None = None, database: str | None = None) -> Place:
    """Return where a shop's data is, its folder made if it was not there.

    Raises
    ------
    InvalidInput
        If the folder cannot be made.
    """
    folder = prepared(data or data_folder())
    return Place(folder, database or folder / STORE_FILE)


def session_secret(folder: Path) -> str:
    """Return the secret that signs cookies: made once, readable by its owner only.

    Raises
    ------
    InvalidInput
        If it cannot be kept in the folder.
    """
    path = folder / SECRET_FILE
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, OWNER_ONLY)
    except FileExistsError:
        path.chmod(OWNER_ONLY)
        return path.read_text("ascii")
    except OSError as problem:
        fix = f"name a folder that can be written ({problem.strerror})"
        raise InvalidInput("data", str(folder), fix) from None
    secret = secrets.token_urlsafe(32)
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(secret)
    return secret


def network_addresses() -> tuple[str, ...]:
    """Return this machine's addresses in its networks, the one it would answer from first."""
    found = [_outward()]
    with contextlib.suppress(socket.gaierror):
        found += [str(entry[4][0]) for entry in socket.getaddrinfo(socket.gethostname(), None)]
    ours = [one for one in found if one and ":" not in one and not one.startswith("127.")]
    return tuple(dict.fromkeys(ours))


def network_names() -> frozenset[str]:
    """Return the names this machine goes by in the shop's network."""
    name = socket.gethostname().casefold()
    return frozenset({name, f"{name.partition('.')[0]}.local"}) if name else frozenset()


def has_screen(environment: Mapping[str, str], platform: str) -> bool:
    """Return whether a browser window can open here; text browsers do not count.

    Parameters
    ----------
    environment : mapping
        As `os.environ`.
    platform : str
        As `sys.platform`.
    """
    if platform in ("win32", "darwin"):
        return True
    return any(environment.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"))


def free_port(wanted: int) -> int:
    """Return a port of this machine that nobody listens on: the wanted one, if it is free."""
    for port in (wanted, 0):
        with socket.socket() as probe, contextlib.suppress(OSError):
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(("127.0.0.1", port))
            return int(probe.getsockname()[1])
    return wanted


def usual_units() -> Units:
    """Return the units that are usual where this machine's language is spoken; else US."""
    language = locale.getlocale(locale.LC_CTYPE)[0] or ""
    country = language.partition("_")[2][:2]
    return Units.US if not country or country in FEET_AND_POUNDS else Units.METRIC


def _outward() -> str:
    """Return the address packets would leave from; asks the routing table and sends nothing."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(SOMEWHERE)
        except OSError:
            return ""
        return str(probe.getsockname()[0])
