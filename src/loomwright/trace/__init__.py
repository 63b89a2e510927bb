"""Trace: the likeliest faults of this rig from what was seen, and what to look at next.

Import the part you need; this package imports none of them by itself.
"""
