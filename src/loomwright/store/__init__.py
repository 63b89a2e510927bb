"""What the workbench keeps: rigs with every change, wire maps, settings, devices, events.

`opening` opens a store (a SQLite file or a PostgreSQL database) and brings it to the present
version; `store` is what it gives: `rigs`, `wire_maps`, `settings`, `devices`, `sessions`, `events`,
and backups. Everything that comes out is a frozen value. `docs/reference/store.md` says what is
promised.
"""
