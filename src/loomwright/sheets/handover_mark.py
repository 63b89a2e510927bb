"""The mark of a record in its PDF: which record, which version, its checksum.

It stands among the keywords of the file, where any reader of PDF shows it, and in the square code.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import cast

from loomwright.sheets.typeset import Paper

WORD = "loomwright-record"
PATTERN = re.compile(
    rb"loomwright-record (?P<record>[0-9a-f]{32}) version (?P<version>[1-9][0-9]{0,8}) "
    rb"sha256 (?P<checksum>[0-9a-f]{64}) (?P<paper>letter|a4)"
)


@dataclass(frozen=True, slots=True)
class Mark:
    """What a printed record says it is."""

    record: str
    version: int
    checksum: str
    paper: Paper

    def __str__(self) -> str:
        """Return it as it stands in the file."""
        return f"{WORD} {self.record} version {self.version} sha256 {self.checksum} {self.paper}"

    @property
    def code(self) -> str:
        """The same for the square code, in the signs that take least room."""
        return f"{WORD} {self.record} {self.version} {self.checksum}".upper()


def marks_in(pdf: bytes) -> tuple[Mark, ...]:
    """Return every mark in a PDF, each once; more than one, or none, is not our doing."""
    found = dict.fromkeys(match.groups() for match in PATTERN.finditer(pdf))
    return tuple(
        Mark(record.decode(), int(version), checksum.decode(), cast("Paper", paper.decode()))
        for record, version, checksum, paper in found
    )
