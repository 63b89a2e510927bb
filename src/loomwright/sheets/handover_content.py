"""What the handover sheet shows, section by section, from the document of a record."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from loomwright.colours import Colour, read_colour
from loomwright.quantities import show_current, show_resistance, show_voltage, unbroken
from loomwright.sheets.handover_pictures import SIGN_HEIGHT, SIGN_WIDTH, signature_svg, upright
from loomwright.sheets.words import NO_BREAK, capital, swatch

Plain = dict[str, Any]
Document = Mapping[str, Any]

NOT_RECORDED = "not recorded"
STATIONS = ("Done", "Wires", "Places", "Readings", "Untested", "Owner", "Photos", "Signed")
KINDS = (
    ("splice", "Splices"),
    ("fuse", "Fuses and breakers"),
    ("ground", "Grounds"),
    ("hole", "Holes"),
)
SHOW = {"V": show_voltage, "A": show_current, "ohm": show_resistance}
DEAD_V = 0.6
"""A pin that may show no more than this carries nothing. [V]"""

INK = {"wrong": "solid", "doubtful": "outline"}
RIGHT = ("right", "normal for this vehicle")


def moment_words(iso: str) -> str:
    """Return a time in full, in UTC: ``24 Nov 2026, 09:30 UTC``."""
    at = datetime.fromisoformat(iso)
    return f"{at.day}{NO_BREAK}{at:%b}{NO_BREAK}{at.year}, {at:%H:%M}{NO_BREAK}UTC"


def checksum_words(checksum: str) -> list[str]:
    """Return a checksum in groups of eight, to be read aloud and compared."""
    return [checksum[start : start + 8] for start in range(0, len(checksum), 8)]


def record_number(document: Document) -> str:
    """Return the short number a record is called by: ``3F9A-22C1, version 2``."""
    short = str(document["record"])[:8].upper()
    return f"{short[:4]}-{short[4:]}, version {document['version']}"


def head(document: Document) -> Plain:
    """Return whose record it is, what it is of, and how it stands."""
    said = document["head"]
    return {
        "rig": said["rig"],
        "job": said["job"],
        "facts": [{"name": name, "value": value} for name, value in said["facts"]],
        "notes": said["noted"],
        "number": record_number(document),
        "why": document["why"],
        "signed": "" if not document["signed_at"] else moment_words(document["signed_at"]),
        "by": [f"{each['name']} ({each['role'].lower()})" for each in document["signatures"]],
        **_tally(document),
    }


def _tally(document: Document) -> Plain:
    """Return how the light check after the work came out, in numbers."""
    after = [row["after"] for row in document["readings"] if row["after"] is not None]
    standings = [side["standing"] for side in after]
    right = sum(each in RIGHT for each in standings)
    made = document["checks"]["after"]
    counts = [
        (standings.count("wrong"), "wrong"),
        (standings.count("doubtful"), "doubtful"),
        (0 if made is None else made["asked"] - len(after), "not tested"),
    ]
    return {
        "right": right,
        "asked": 0 if made is None else made["asked"],
        "counts": [f"{count} {word}" for count, word in counts if count],
        "is_checked": made is not None,
    }


def done(document: Document) -> Plain:
    """Return what was done, how much was left, and what was found and set."""
    return {
        "phases": _by_phase(document["done"]),
        **_left(document),
        "texts": [
            {"title": title, "says": document[key]}
            for key, title in (
                ("found", "Found before anything was touched"),
                ("done_notes", "Done besides, or done otherwise"),
                ("parts", "Parts fitted"),
                ("settings", "Set, coded and cleared"),
            )
            if document[key]
        ],
    }


def _by_phase(steps: Sequence[Mapping[str, Any]]) -> list[Plain]:
    phases: dict[str, list[str]] = {}
    for each in steps:
        phases.setdefault(each["phase"], []).append(each["says"])
    return [{"title": phase, "steps": says} for phase, says in phases.items()]


def _left(document: Document) -> Plain:
    """Return how many steps are not ticked, and how many those are of each phase."""
    left, ticked = document["left"], document["done"]
    counts = Counter(each["phase"] for each in left)
    steps = f"the{NO_BREAK}{len(left) + len(ticked)} steps of the job sheet"
    says = f"{len(left)} of {steps} {'is' if len(left) == 1 else 'are'} not ticked as done"
    return {
        "left": "" if not left else says if ticked else f"None of {steps} is ticked as done",
        "left_of": [f"{phase}{NO_BREAK}{count}" for phase, count in counts.items() if ticked],
    }


def wires(document: Document) -> list[Plain]:
    """Return the wire map of each socket."""
    return [
        {
            "title": _socket_title(each),
            "plug": each["plug"],
            "has_cord": any(row["cord"] for row in each["rows"]),
            "rows": [
                {
                    "pin": row["pin"],
                    "function": row["function"],
                    **{side: _wire(row[side]) for side in ("vehicle", "lead", "cord")},
                }
                for row in each["rows"]
            ],
        }
        for each in document["maps"]
    ]


def _socket_title(each: Mapping[str, Any]) -> str:
    where = f", {each['location']}" if each["location"] else ""
    return f"“{each['socket']}”{where}: {each['connector']}"


def _wire(wire: Mapping[str, Any] | None) -> Plain | None:
    if wire is None:
        return None
    is_bare = not wire["colour"] and wire["at"]
    return {
        "swatch": None if is_bare else swatch(_colour(wire["colour"])),
        "detail": [part for part in (wire["size"], wire["at"]) if part],
    }


def _colour(words: str) -> Colour | None:
    return read_colour(words) if words else None


def places(document: Document) -> list[Plain]:
    """Return where everything is, kind by kind."""
    found = []
    for kind, title in KINDS:
        rows = [each for each in document["places"] if each["kind"] == kind]
        if rows:
            found.append({"title": title, "rows": [_place(each) for each in rows]})
    return found


def _place(each: Mapping[str, Any]) -> Plain:
    return {
        "title": each["title"],
        "detail": unbroken(each["detail"]),
        "wires": [_wire(wire) for wire in each["wires"]],
        "place": each["place"] or NOT_RECORDED,
        "is_known": bool(each["place"]),
    }


def readings(document: Document) -> Plain:
    """Return every reading before and after the work, by what was held."""
    held: dict[str, list[Mapping[str, Any]]] = {}
    for row in document["readings"]:
        held.setdefault(row["hold"], []).append(row)
    checks = document["checks"]
    return {
        "steps": [_held(hold, rows) for hold, rows in held.items()],
        "before": _check_words(checks["before"]),
        "after": _check_words(checks["after"]),
    }


def _held(hold: str, rows: Sequence[Mapping[str, Any]]) -> Plain:
    """Return what one command showed; what is dead, and must be, in one line together."""
    return {
        "title": capital(hold.rstrip(".")),
        "rows": [_reading(row) for row in rows if not _is_quiet(row)],
        "quiet": "; ".join(_quiet(row) for row in rows if _is_quiet(row)),
    }


def _is_quiet(row: Mapping[str, Any]) -> bool:
    """Whether a row says only that something dead is dead, now and before if it was tested."""
    sides = [row[side] for side in ("before", "after") if row[side] is not None]
    if row["after"] is None or any(side["standing"] != "right" for side in sides):
        return False
    if row["quantity"] not in SHOW:
        return list(row["words"]) == ["off"]
    low, high = row["low"], row["high"]
    return high is not None and high <= DEAD_V and (low is None or low <= 0)


def _quiet(row: Mapping[str, Any]) -> str:
    """Return such a row in words: after, and before in brackets."""
    shown = [_shown(row[side], row["quantity"]) for side in ("after", "before") if row[side]]
    before = f" (before {shown[1]})" if len(shown) > 1 else ""
    return unbroken(f"{row['title']} {shown[0]}{before}")


def _shown(side: Mapping[str, Any], unit: str) -> str:
    value = side["value"]
    return side["word"] or ("" if value is None else SHOW[unit](value))


def _check_words(made: Mapping[str, Any] | None) -> str:
    if made is None:
        return ""
    people = "one person" if made["people"] == 1 else f"{made['people']} people"
    return (
        f"{moment_words(made['at'])}, {people}, tester {made['tester']}, "
        f"by {'; '.join(made['who'])}; {made['answered']} of {made['asked']} answered"
    )


def _reading(row: Mapping[str, Any]) -> Plain:
    unit = row["quantity"]
    return {
        "title": capital(row["title"]),
        "must": _must(row),
        "plugged": row["plugged"],
        "before": _side(row["before"], unit),
        "after": _side(row["after"], unit),
        "bar": _bar(row) if unit in SHOW else None,
    }


def _must(row: Mapping[str, Any]) -> str:
    """Return what must be seen or read."""
    if row["quantity"] not in SHOW:
        return " or ".join(row["words"])
    show = SHOW[row["quantity"]]
    low, high = row["low"], row["high"]
    if low is None and high is None:
        return "no limit"
    if low is None:
        return f"at most {show(high)}"
    return f"{show(low)} or more" if high is None else f"{show(low)} to {show(high)}"


def _side(side: Mapping[str, Any] | None, unit: str) -> Plain | None:
    if side is None:
        return None
    return {
        "shown": _shown(side, unit),
        "word": side["standing"],
        "ink": INK.get(side["standing"], "plain"),
        "says": " ".join(part for part in (side["says"], side["note"]) if part),
    }


def _bar(row: Mapping[str, Any]) -> Plain | None:
    """Return the band and both readings as shares of a line, to be drawn."""
    known = {
        "low": row["low"],
        "high": row["high"],
        "nominal": row["nominal"],
        **{side: None if row[side] is None else row[side]["value"] for side in ("before", "after")},
    }
    values = [each for each in known.values() if each is not None]
    if row["low"] is None and row["high"] is None:
        return None
    least, most = min([0.0, *values]) if row["low"] is None else min(values), max(values)
    room = (most - least) * 0.12 or 1.0
    least, most = least - room, most + room

    def share(value: float | None, missing: float | None) -> float | None:
        return missing if value is None else round((value - least) / (most - least), 4)

    return {
        "low": share(row["low"], 0.0),
        "high": share(row["high"], 1.0),
        "before": share(known["before"], None),
        "after": share(known["after"], None),
    }


def owner(document: Document) -> Plain:
    """Return what the owner must know."""
    return {"says": list(document["cautions"]), "more": document["for_owner"]}


def photos(document: Document) -> list[Plain]:
    """Return the words of each photo; the photos themselves travel apart."""
    found = []
    for number, each in enumerate(document["photos"], start=1):
        width, height = upright(each)
        caption = each["caption"] or f"Photo {number}"
        found.append({"caption": caption, "is_tall": height > width, "sum": each["sha256"][:16]})
    return found


def signatures(document: Document) -> Iterator[Plain]:
    """Yield each signature, drawn or typed."""
    for each in document["signatures"]:
        drawn = bool(each["strokes"])
        words = f"Signature of {each['name']}, {each['role'].lower()}"
        yield {
            "role": each["role"],
            "name": each["name"],
            "at": moment_words(each["at"]),
            "picture": {"svg": signature_svg(each["strokes"]), "alt": words} if drawn else None,
            "ratio": SIGN_WIDTH / SIGN_HEIGHT,
        }
