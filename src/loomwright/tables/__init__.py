"""Tables of sourced rows: a CSV file in a package, read into frozen dataclasses."""

from __future__ import annotations

from loomwright.tables.rows import Standing, read_rows

__all__ = ["Standing", "read_rows"]
