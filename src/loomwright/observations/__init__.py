"""Observations: what a person saw, measured or was told at one place under one command.

Import the part you need; this package imports none of them by itself.

word
    `Word`, the fixed vocabulary of what the eye sees.
place
    `Place`: a lamp or other load, a pin, two points, a fuse, the controller, another vehicle.
observation
    `Observation`; to plain values and back.
"""
