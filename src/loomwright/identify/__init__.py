"""Identify: which wire of a bundle does what, from few readings.

Import the part you need; this package imports none of them by itself.
"""
