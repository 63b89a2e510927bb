"""Identify: which wire of a bundle does what, from few readings.

Import the part you need; this package imports none of them by itself.

bundle
    `Bundle`, `Wire`: what is unknown, what may be among it, what is known of the vehicle.
reading
    `Reading`, `readings_of`: what a wire showed, in a word or a number.
identification
    `identify`: what each wire is, how sure, what to read next, what stays open.
plain
    Bundle and readings to plain values and back.
belief, matching, information, asking
    Probabilities over whole assignments, exact; what a reading would tell; the next one.
safety
    What may be probed with what, after what.
"""
