"""Filling what a job file leaves out, with each value taken written down."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from loomwright.invalid import InvalidInput
from loomwright.reference.connectors import connector
from loomwright.reference.defaults import Default, Variant
from loomwright.rig.model import Assumption

FROM_FILE = "this job file"
NUMBER = re.compile(r"\[\d+\]")


def variant_of(connector_key: str) -> Variant | None:
    """Return the family of defaults that is usual behind a connector; None: the light US trade."""
    row = connector(connector_key).row
    if row.family == "7-heavy":
        return "heavy"
    if row.family in ("4-flat", "5-flat"):
        return "flat"
    return None if "US" in row.regions else "metric"


@dataclass(slots=True)
class Fill:
    """Takes defaults, and keeps what was assumed and what cannot be used."""

    assumed: dict[tuple[str, str], Assumption] = field(default_factory=dict)
    problems: list[InvalidInput] = field(default_factory=list)

    def text(self, path: str, written: str | None, row: Default) -> str:
        """Return what was written, or the default, which is then an assumption."""
        if written is not None:
            return written
        self.assume(path, row.value_text, row.says, row.source, row.standing)
        return row.value_text

    def derive(self, path: str, value: str, says: str) -> str:
        """Return a value worked out from the rest of the file, as an assumption."""
        self.assume(path, value, says, FROM_FILE, "common practice")
        return value

    def assume(self, path: str, value: str, says: str, source: str, standing: str) -> None:
        """Write an assumption down; the same one at several entries of a list stands once."""
        key = (NUMBER.sub("", path), value)
        before = self.assumed.get(key)
        said = path if before is None or before.field == path else key[0]
        self.assumed[key] = Assumption(said, value, says, source, standing)

    def refuse(self, path: str, value: object, fix: str) -> None:
        """Note a value that cannot be used."""
        self.problems.append(InvalidInput(path, value, fix))

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """Everything assumed, in the order it was taken."""
        return tuple(self.assumed.values())
