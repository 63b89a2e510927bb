"""A 16 m trailer with 60 lamps, to measure on: written as a job file, lamps set out evenly."""

from __future__ import annotations

HEAD = """\
[rig]
name = "Long trailer for measuring"
units = "metric"

[vehicle]
name = "Harrow tractor"
signals = "separate"
socket_feed = "shared"
{feeds}
[[socket]]
name = "rear"
connector = "7-heavy"
join = "factory"

[trailer]
name = "Sixteen metres, sixty lamps"
kind = "flatbed"
width = "2.5 m"
length = "16 m"
gross_mass = "30000 kg"
axles = 3
brakes = "none"
signals = "separate"
plug = "7-heavy"
returns = "wire"
"""

FEEDS = ("clearance", "left_turn", "stop", "right_turn", "tail")
LENGTH_M = 15.0
MARKERS = 44
REAR = ("tail", "stop")


def long_trailer() -> str:
    """Return the job file."""
    feeds = "".join(_feed(name) for name in FEEDS)
    lamps = [_marker(number) for number in range(MARKERS)]
    for number in range(4):
        lamps.extend(_lamp(f"rear {name} {number}", name, LENGTH_M) for name in REAR)
    for side in ("left", "right"):
        lamps.extend(_lamp(f"{side} turn {n}", f"{side}_turn", LENGTH_M - n) for n in range(4))
    return HEAD.format(feeds=feeds) + "".join(lamps)


def _feed(function: str) -> str:
    return (
        f'\n[[vehicle.feed]]\nfunction = "{function}"\nsize = "12 AWG"\nlength = "6 m"\n'
        'fuse = "20 A"\nlamps = ["1156"]\n'
    )


def _marker(number: int) -> str:
    back = 1.0 + (LENGTH_M - 1.0) * (number // 2) / (MARKERS // 2)
    return _lamp(f"marker {number}", "clearance" if number % 4 < 2 else "tail", back, "194")


def _lamp(name: str, function: str, back_m: float, bulb: str = "1156") -> str:
    return (
        f'\n[[trailer.lamp]]\nname = "{name}"\nback = "{back_m:.2f} m"\n'
        f'lights = {{ {function} = "{bulb}" }}\ncounts_as = []\n'
    )
