"""Job files for the tests: the smallest that can be used, and some with a wire map."""

SMALL = """\
# The bracket is bent.
[rig]
name = "Marsh Hollow flatbed"
kind = "second socket"
customer = "Weißgerber & Søn"

[vehicle]
name = "Quillon 150 pickup"
vin = "1A9BE2024NM123456"

[[vehicle.feed]]
function = "tail"
colour = "BN/WH"
size = "16 SAE"
found = "left rear harness"

[[vehicle.feed]]
function = "left_stop_turn"
colour = "YE"

[[socket]]
connector = "4-flat"

[trailer]
name = "Tansy flatbed"
"""
DRAFT = SMALL.replace('size = "16 SAE"', 'size = "16"')
"""A bare number: the size has no unit."""

BROKEN = SMALL + "\n[trailer\n"
"""No TOML."""
