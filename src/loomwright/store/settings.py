"""Settings of the shop."""

from __future__ import annotations

from dataclasses import dataclass, fields

from sqlalchemy import delete, insert, select

from loomwright.invalid import InvalidInput
from loomwright.quantities import Units
from loomwright.store.access import Access
from loomwright.store.entry import checked_name
from loomwright.store.events import Happening, add_event
from loomwright.store.tables import SETTINGS


@dataclass(frozen=True, slots=True)
class ShopSettings:
    """What holds for the whole shop: units to read, and its name for the head of the sheets."""

    units: Units = Units.US
    shop_name: str = ""


@dataclass(frozen=True, slots=True)
class Settings:
    """The settings of a store."""

    access: Access

    def read(self) -> ShopSettings:
        """Return the settings; what nobody has set is as in `ShopSettings`."""
        with self.access.reading() as connection:
            rows = connection.execute(select(SETTINGS.c.name, SETTINGS.c.value))
            said = {row.name: row.value for row in rows}
        plain = ShopSettings()
        units = said.get("units", plain.units)
        return ShopSettings(_units(units), said.get("shop_name", plain.shop_name))

    def write(self, settings: ShopSettings, who: str) -> ShopSettings:
        """Keep the settings, and return them as they are kept.

        Parameters
        ----------
        settings : ShopSettings
            All of them: `dataclasses.replace` those that were read.
        who : str
            Who sets them.

        Raises
        ------
        InvalidInput
            If a name cannot be used.
        """
        who, shop = checked_name(who, "who"), settings.shop_name
        kept = ShopSettings(settings.units, checked_name(shop, "shop_name") if shop.strip() else "")
        at = self.access.at()
        rows = [
            {"name": each.name, "value": str(getattr(kept, each.name)), "at": at, "who": who}
            for each in fields(kept)
        ]
        with self.access.writing() as connection:
            names = [row["name"] for row in rows]
            connection.execute(delete(SETTINGS).where(SETTINGS.c.name.in_(names)))
            connection.execute(insert(SETTINGS), rows)
            said = {each.name: str(getattr(kept, each.name)) for each in fields(kept)}
            add_event(connection, self.access, Happening("settings", said, who))
        return kept


def _units(said: str) -> Units:
    try:
        return Units(said)
    except ValueError as unknown:
        raise InvalidInput("units", said, f"choose one of {', '.join(Units)}") from unknown
