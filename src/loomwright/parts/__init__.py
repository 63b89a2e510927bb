"""Parts to pull from the shelf and conductors to cut.

`parts_list(rig, hookup)` gives both.
"""

from loomwright.parts.listing import parts_list
from loomwright.parts.model import Cut, Item, PartsList

__all__ = ["Cut", "Item", "PartsList", "parts_list"]
