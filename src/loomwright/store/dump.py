"""A backup as text: every row a line of JSON, for moving between databases of any kind.

The first line says what it is and of which version; the last one how many rows there are, and the
sum over all lines before it. A file without its last line is not whole.
"""

from __future__ import annotations

import hashlib
import json
from base64 import b64encode
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, select

from loomwright.store.problem import StoreProblem
from loomwright.store.tables import KEPT

FORMAT = "loomwright-store"
INCOMPLETE = "use another backup: this one was cut short or changed"


@dataclass(frozen=True, slots=True)
class Dump:
    """A backup that was read and found whole: version of the store, and rows by table."""

    revision: str
    rows: tuple[tuple[str, dict[str, Any]], ...]


def dump_lines(connection: Connection, revision: str, at: datetime) -> Iterator[str]:
    """Yield the lines of a backup."""
    digest, lines = hashlib.sha256(), 0
    for content in _contents(connection, revision, at):
        line = json.dumps(content, ensure_ascii=True, default=_plain) + "\n"
        digest.update(line.encode())
        lines += 1
        yield line
    yield json.dumps({"rows": lines - 1, "sha256": digest.hexdigest()}) + "\n"


def read_dump(path: Path) -> Dump:
    """Return what stands in a backup.

    Raises
    ------
    StoreProblem
        If it is something else, or not whole.
    """
    digest, lines = hashlib.sha256(), path.read_bytes().splitlines(keepends=True)
    contents = list(_parsed(path, lines))
    if not contents or contents[0].get("format") != FORMAT:
        raise StoreProblem(str(path), "is no backup of Loomwright", "choose another file")
    head, *rows, last = contents if len(contents) > 1 else [*contents, {}]
    for line in lines[:-1]:
        digest.update(line)
    if last != {"rows": len(rows), "sha256": digest.hexdigest()}:
        raise StoreProblem(str(path), "is damaged", INCOMPLETE)
    return Dump(str(head.get("version")), tuple(_row(path, content) for content in rows))


def _contents(connection: Connection, revision: str, at: datetime) -> Iterator[dict[str, Any]]:
    yield {"format": FORMAT, "version": revision, "at": at}
    for table in KEPT:
        for row in connection.execute(select(table).order_by(*table.primary_key)):
            yield {"table": table.name, "row": dict(row._mapping)}


def _parsed(path: Path, lines: Iterable[bytes]) -> Iterator[dict[str, Any]]:
    for line in lines:
        try:
            content = json.loads(line)
        except ValueError as unreadable:
            what = "is no backup of Loomwright, or is damaged"
            raise StoreProblem(str(path), what, INCOMPLETE) from unreadable
        if not isinstance(content, dict):
            raise StoreProblem(str(path), "is no backup of Loomwright", "choose another file")
        yield content


def _row(path: Path, content: Mapping[str, Any]) -> tuple[str, dict[str, Any]]:
    name, row = content.get("table"), content.get("row")
    if name not in {table.name for table in KEPT}:
        raise StoreProblem(str(path), f"holds an unknown table ({name})", INCOMPLETE)
    if not isinstance(row, dict):
        raise unusable(path, str(name))
    return str(name), row


def unusable(path: Path, table: str) -> StoreProblem:
    """Return the problem of a row that does not fit its table."""
    return StoreProblem(str(path), f"holds a row of {table} that cannot be used", INCOMPLETE)


def _plain(value: object) -> str:
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, bytes):
        return b64encode(value).decode("ascii")
    raise TypeError(f"not for a backup: {value!r}")
