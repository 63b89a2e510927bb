"""Identifying wires on a device: what was sent, in the event log; what it comes to.

Import the part you need; this package imports none of them by itself.

keeping
    `Kept`: the bundle and its readings, as the events tell them.
beginning
    The form that begins a bundle, read into one.
standing
    What each wire is, for the list beside the question.
"""
