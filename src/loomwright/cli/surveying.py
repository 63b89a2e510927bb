"""Solving a rig with a bar on a terminal that shows how far it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loomwright import survey
from loomwright.cli.bar import with_bar

if TYPE_CHECKING:
    from loomwright.checks.rule import Work
    from loomwright.rig.model import Rig


def survey_with_bar(rig: Rig) -> Work:
    """Pair and solve a rig; a bar shows on a terminal and vanishes when done."""
    return with_bar(f"Solving {rig.name}", lambda told: survey(rig, told))
