"""What the workbench is told when it starts."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

LOOPBACK = frozenset({"127.0.0.1", "localhost"})
DEFAULT_PORT = 5666
"""LOOM on the keys of a telephone."""

MOST_BODY_BYTES = 2_000_000
"""Far above any job file; nothing larger is taken in."""


@dataclass(frozen=True, slots=True)
class Settings:
    """How one workbench runs.

    Parameters
    ----------
    secret : str
        Signs the cookies; must stay the same from start to start.
    port : int
        Where it listens.
    addresses : tuple of str
        Addresses of this machine in the shop's network; empty unless it is offered there.
    names : frozenset of str
        Names this machine goes by in that network.
    data : Path or None
        Folder of the store, to be named where something is to be mended.
    max_body_bytes : int
        Most that a request may bring.
    """

    secret: str
    port: int = DEFAULT_PORT
    addresses: tuple[str, ...] = ()
    names: frozenset[str] = frozenset()
    data: Path | None = None
    max_body_bytes: int = MOST_BODY_BYTES

    @property
    def is_open(self) -> bool:
        """Whether other devices of the shop may come."""
        return bool(self.addresses)

    @property
    def hosts(self) -> frozenset[str]:
        """Every name under which requests may ask for this machine."""
        return LOOPBACK | frozenset(self.addresses) | self.names

    @property
    def links(self) -> tuple[str, ...]:
        """Where other devices of the shop find the workbench."""
        return tuple(f"http://{address}:{self.port}" for address in self.addresses)
