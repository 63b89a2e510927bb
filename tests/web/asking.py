"""Asking the workbench as a browser would: pages first, then forms with their token."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from html import unescape
from typing import Any

from fastapi import FastAPI
from httpx2 import Response
from starlette.testclient import TestClient

ADDRESS = "192.0.2.17"  # RFC 5737: an address for examples
PORT = 5666
TOKEN = re.compile(r'name="csrf" value="([^"]+)"')
TAG = re.compile(r"<[^>]*>")


@dataclass
class Clock:
    """Stands still until it is wound."""

    time: datetime = field(default_factory=lambda: datetime(2026, 11, 24, 9, 30, tzinfo=UTC))

    def __call__(self) -> datetime:
        """The time it shows."""
        return self.time

    def wind(self, **by: float) -> None:
        """Turn it forward, as `timedelta` counts."""
        self.time += timedelta(**by)


@dataclass
class Asker:
    """A browser at one place."""

    client: TestClient

    def get(self, path: str, **more: Any) -> Response:
        """Ask for a page."""
        return self.client.get(path, **more)

    def token(self, page: str = "/settings") -> str:
        """The token of this visitor's session, from a page."""
        found = TOKEN.search(self.get(page, follow_redirects=True).text)
        assert found, f"{page} has no form"
        return found[1]

    def post(self, path: str, page: str = "/settings", **values: Any) -> Response:
        """Send a form as a page of ours would."""
        return self.client.post(path, data={"csrf": self.token(page), **values})


def asker(app: FastAPI, host: str = "127.0.0.1", client: str = "127.0.0.1") -> Asker:
    """A browser that asks for a host from an address."""
    base = f"http://{host}:{PORT}"
    return Asker(
        TestClient(
            app,
            base_url=base,
            client=(client, 50000),
            follow_redirects=False,
            raise_server_exceptions=False,
        )
    )


def words(answer: Response) -> str:
    """What a person reads on a page."""
    body = answer.text.partition("<body")[2]
    return " ".join(unescape(TAG.sub(" ", body.partition(">")[2])).split())
