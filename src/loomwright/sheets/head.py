"""Head of the sheet: whose job it is, what it is in one line, the verdict, the gravest findings."""

from __future__ import annotations

import math
from collections.abc import Sequence

from loomwright.checks.rule import Finding, Severity
from loomwright.quantities import show_current, show_diameter, show_length, show_voltage
from loomwright.rig.model import Join, Rig, Socket
from loomwright.sheets.facts import is_rewire, new_feeds, new_sockets
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import NO_BREAK, capital, connector_title, decapital, feed_name, listed

LINES_FOR_GRAVEST = 37
LINE_LETTERS = 92
GRAVE = (Severity.DANGER, Severity.MUST)
INK_OF = {
    Severity.DANGER: "solid",
    Severity.MUST: "solid",
    Severity.SHOULD: "outline",
    Severity.NOTE: "plain",
}
COUNT_WORDS = {
    Severity.DANGER: "danger",
    Severity.MUST: "must be mended",
    Severity.SHOULD: "should be mended",
    Severity.NOTE: "to note",
}
JURISDICTION_BLANK = "not stated"


def head(rig: Rig, findings: Sequence[Finding]) -> Content:
    """Return the content of the head."""
    mend = [finding for finding in findings if finding.severity.to_mend]
    shown = _gravest(findings)
    return {
        "rig": rig.name,
        "job": job_line(rig),
        "notes": rig.notes,
        "facts": [{"name": name, "value": value} for name, value in rig_facts(rig)],
        "to_mend": len(mend),
        "counts": _counts(findings),
        "grave": [finding_block(rig, findings[n], n + 1) for n in shown],
        "more": len(findings) - len(shown),
    }


def _gravest(findings: Sequence[Finding]) -> list[int]:
    """Places of the findings that fill the first page, gravest first."""
    grave = [n for n, each in enumerate(findings) if each.severity in GRAVE]
    candidates = grave or [n for n, each in enumerate(findings) if each.severity.to_mend][:2]
    shown: list[int] = []
    lines = 0
    for place in candidates:
        lines += _lines(findings[place])
        if lines > LINES_FOR_GRAVEST and shown:
            break
        shown.append(place)
    return shown


def _lines(finding: Finding) -> int:
    """Lines a finding takes on the first page, its head and the space after it included."""
    texts = (finding.says, f"Mend: {finding.fix}")
    return 3 + sum(math.ceil(len(text) / LINE_LETTERS) for text in texts)


def finding_block(rig: Rig, finding: Finding, number: int) -> dict[str, object]:
    """Return one finding for the template."""
    return {
        "number": number,
        "ink": INK_OF[finding.severity],
        "word": finding.severity.value,
        "code": finding.rule,
        "where": capital(finding.where),
        "says": finding.says,
        "why": finding.why,
        "fix": finding.fix,
        "value": _with_unit(rig, finding.value, finding.unit),
        "limit": _with_unit(rig, finding.limit, finding.unit),
    }


def job_line(rig: Rig) -> str:
    """Return what the job is in one line."""
    parts = [_socket_line(rig, socket) for socket in new_sockets(rig)]
    if not parts:
        parts = [_trailer_line(rig)]
    feeds = [feed_name(rig, feed) for feed in new_feeds(rig)]
    if feeds:
        parts.append(f"new from the front: {listed(dict.fromkeys(feeds))}")
    if rig.adapter is not None:
        parts.append(f"trailer on the {rig.adapter} adapter")
    return "; ".join(parts) + "."


def _socket_line(rig: Rig, socket: Socket) -> str:
    title = connector_title(socket.connector)
    where = f" ({socket.location})" if socket.location else ""
    match socket.join:
        case Join.BRANCHED:
            how = f"branched off the {socket.joins_from} socket, which stays alive"
        case Join.CUT:
            how = f"in place of the {socket.joins_from} wiring"
        case Join.TEE:
            how = f"by plug-in harness from the {socket.joins_from}"
        case _ if rig.converter is not None and socket.joins_from == "converter":
            powered = "powered " if rig.converter.powered else ""
            how = f"behind a {powered}{rig.converter.kind.value} converter"
        case _:
            how = "wired from the vehicle's own feeds"
    return f"Fit “{socket.name}”{where}: {decapital(title)}, {how}"


def _trailer_line(rig: Rig) -> str:
    trailer, socket = rig.trailer, rig.towing_socket
    title = decapital(connector_title(socket.connector))
    if is_rewire(rig):
        return f"Renew the whole wiring of the trailer from its {title} plug to the last lamp"
    return f"Check {trailer.name} on the maker's {title} socket"


def rig_facts(rig: Rig) -> tuple[tuple[str, str], ...]:
    """Return the facts of the head: name and value; the value empty where it is not known."""
    trailer = rig.trailer
    mass = f"{trailer.gross_mass_kg:.0f}{NO_BREAK}kg"
    if rig.units.value == "us":
        mass = f"{trailer.gross_mass_kg / 0.45359237:.0f}{NO_BREAK}lb"
    long = show_length(trailer.length_m, rig.units)
    kind = f"{trailer.name}, {long}, {mass}, {trailer.braking.value} brakes"
    if trailer.braking.value == "none":
        kind = f"{trailer.name}, {long}, {mass}, no brakes"
    return (
        ("Vehicle", f"{rig.vehicle.name}, {rig.vehicle.supply.nominal_v:g}{NO_BREAK}V"),
        ("VIN", rig.vehicle.vin),
        ("Trailer", kind),
        ("Customer", rig.customer),
        ("Shop", rig.shop),
        ("Technician", rig.technician),
        ("Date", rig.date),
        ("Rules of", rig.jurisdiction or JURISDICTION_BLANK),
    )


def _counts(findings: Sequence[Finding]) -> list[str]:
    numbers = {each: sum(f.severity is each for f in findings) for each in Severity}
    return [f"{count} {COUNT_WORDS[each]}" for each, count in numbers.items() if count]


def _with_unit(rig: Rig, value: float | None, unit: str) -> str:
    if value is None:
        return ""
    match unit:
        case "V":
            return show_voltage(value)
        case "A":
            return show_current(value)
        case "m":
            return show_length(value, rig.units)
        case "mm":
            return show_diameter(value, rig.units)
        case _:
            return f"{value:.3g}{NO_BREAK}{unit}".strip(NO_BREAK)
