"""Pairing of conductors by function, never by colour.

`pair(rig)` returns the `Hookup`: every joint with both colours, gauges and its standing, the
converters the rig needs, and the traps of the trade it meets.
"""
