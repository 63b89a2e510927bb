"""Hypothesis strategies for small job files, as the tables a TOML reader gives."""

from typing import Any

from hypothesis import strategies as st

from loomwright.rig import known
from loomwright.rig.words import LIGHT_COLOURS, TRAILER_KINDS

NAMES = st.text(
    st.characters(categories=["L", "N", "P", "S", "Zs"]), min_size=1, max_size=12
).filter(lambda name: bool(name.strip()) and name.isprintable())
LENGTHS = st.sampled_from(["19 ft", "4 ft 3 in", "5.8 m", "580 cm", "6-1/2 ft", "5,8 m"])
SIZES = st.sampled_from(["14 AWG", "14 ga", "2.5 mm2", "1/0 AWG", "16 SAE", "2,5 mm²"])
COLOURS = st.sampled_from(["red", "GN/VT", "white/black", "brown with white stripe"])
LAMPS = st.sampled_from(["1157 minor", "1156", "P21W", "LED", "LED 0.3 A", "LED 40 mA multivolt"])
FUNCTIONS = st.sampled_from(["tail", "left_stop_turn", "right_stop_turn", "brake", "battery"])
TEXTS = st.text(max_size=20)


def table(**entries: st.SearchStrategy[Any]) -> st.SearchStrategy[dict[str, Any]]:
    """Tables with any of these entries."""
    return st.fixed_dictionaries({}, optional=entries)


WIRES = table(size=SIZES, length=LENGTHS, colour=COLOURS, insulation=st.just("GXL"))
BRANCHES: dict[str, st.SearchStrategy[Any]] = {
    "back": LENGTHS,
    "branch": WIRES,
    "ground": WIRES,
    "joint": st.sampled_from(list(known.joints())),
}
LEADS = table(
    colours=st.sampled_from(list(known.conventions_or_unknown())),
    length=LENGTHS,
    size=SIZES,
    without=st.lists(FUNCTIONS, max_size=2),
    ground=WIRES,
    tail=WIRES,
)
FEEDS = st.fixed_dictionaries(
    {"function": FUNCTIONS},
    optional={
        "size": SIZES,
        "length": LENGTHS,
        "colour": COLOURS,
        "fuse": st.sampled_from(["15 A", "30 A medium", "none"]),
        "live": st.sampled_from(["command", "always", "ignition", "engine"]),
        "new": st.booleans(),
        "found": TEXTS,
        "duty": st.sampled_from(["22 %", "0.5"]),
        "lamps": st.lists(LAMPS, max_size=3),
    },
)
LEGS = st.fixed_dictionaries(
    {"name": NAMES, "length": LENGTHS},
    optional={"hole": st.just("3/4 in"), "passes": TEXTS, "cautions": st.lists(TEXTS, max_size=2)},
)
SOCKETS = st.fixed_dictionaries(
    {"connector": st.sampled_from(list(known.connectors()))},
    optional={
        "ground": st.sampled_from(["own ring", "old wire"]),
        "ground_wire": WIRES,
        "slack": LENGTHS,
        "lead": LEADS,
        "leg": st.lists(LEGS, max_size=2),
        "location": TEXTS,
    },
)
LAMP_TABLES = st.fixed_dictionaries(
    {"lights": st.dictionaries(FUNCTIONS, LAMPS, min_size=1, max_size=3)},
    optional={
        "sides": st.just(["left", "right"]),
        "height": st.just("20 in"),
        "colour": st.sampled_from(LIGHT_COLOURS),
        "counts_as": st.lists(st.sampled_from(list(known.lamp_kinds())), max_size=3),
        **BRANCHES,
    },
)
TRAILERS = table(
    name=NAMES,
    kind=st.sampled_from(TRAILER_KINDS),
    width=st.just("84 in"),
    gross_mass=st.just("3500 lb"),
    brakes=st.sampled_from(["none", "electric", "surge"]),
    returns=st.sampled_from(["wire", "frame"]),
    cord=LEADS,
    run=table(size=SIZES, ground=SIZES, brake=SIZES),
    lamp=st.lists(LAMP_TABLES, max_size=3),
    brake=st.lists(table(size=st.just("12 in"), **BRANCHES), max_size=2),
    battery=table(capacity=st.just("105 Ah"), charge=st.just("60 %"), **BRANCHES),
    breakaway=table(charged_by=st.sampled_from(["battery", "nothing"]), back=LENGTHS),
)
JOBS = st.fixed_dictionaries(
    {"socket": st.lists(SOCKETS, min_size=1, max_size=2), "trailer": TRAILERS},
    optional={
        "rig": table(name=NAMES, notes=TEXTS, date=st.just("2026-05-14"), commercial=st.booleans()),
        "vehicle": table(
            name=NAMES,
            vin=st.just("1M8GDM9AXKP042788"),
            supply=table(running=st.just("14.1 V"), managed=st.booleans()),
            brake_controller=table(output=st.just("95 %")),
            feed=st.lists(FEEDS, max_size=3),
            notes=TEXTS,
        ),
    },
)
"""Jobs each entry of which can be read, though two of them may not go together."""
