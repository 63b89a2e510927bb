"""The record: every finding in full, what was assumed, where it is from, who signs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from loomwright.checks.rule import Finding, Work
from loomwright.quantities import show_resistance, unbroken
from loomwright.reference.joints import joint
from loomwright.reference.sources import cited, source, sources
from loomwright.rig.known import LED_FORM_WORDS
from loomwright.rig.model import Assumption, Rig
from loomwright.sheets.head import finding_block
from loomwright.sheets.typeset import Content
from loomwright.sheets.words import command_title, decapital, standing_words

SIGNS = ("Technician", "Second person", "Customer")
NOT_TABLED = "this job file"
FORM_WORDS = {key: word for word, key in LED_FORM_WORDS.items()}
LIVE_WORDS = {"command": "when asked for"}


def record(work: Work, findings: Sequence[Finding], steps_cite: Iterable[str]) -> Content:
    """Return findings, assumptions, sources and the places to sign.

    Parameters
    ----------
    work : Work
        The rig with its pairing.
    findings : sequence of Finding
        Gravest first, as they are numbered on the sheet.
    steps_cite : iterable of str
        Source cells of the steps and cautions shown.
    """
    numbers = _numbers(work, findings, steps_cite)
    return {
        "findings": [
            {
                **finding_block(work.rig, finding, number),
                "command": command_title(finding.command) if finding.command else "",
                "cites": _cites(finding.source, numbers),
                "standing": standing_words(finding.standing),
            }
            for number, finding in enumerate(findings, 1)
        ],
        "assumptions": [_assumption(each, numbers) for each in work.rig.assumptions],
        "sources": [_source(key, number) for key, number in numbers.items()],
        "signs": list(SIGNS),
        "notes": _blank(work.rig),
    }


def _numbers(work: Work, findings: Sequence[Finding], steps_cite: Iterable[str]) -> dict[str, int]:
    """Number each source once, in the order it is met."""
    known = {row.key for row in sources()}
    cells = [
        *(finding.source for finding in findings),
        *(each.source for each in work.rig.assumptions),
        *(trap.source for trap in work.hookup.traps),
        *(need.source for need in work.hookup.needs),
        *steps_cite,
    ]
    keys = [key for cell in cells for key, _ in cited(cell) if key in known]
    return {key: number for number, key in enumerate(dict.fromkeys(keys), 1)}


def _cites(cell: str, numbers: dict[str, int]) -> str:
    """Return the places cited, by number of the source list: ``3, table IX; 7``."""
    shown = []
    for key, place in cited(cell):
        if key in numbers:
            shown.append(f"[{numbers[key]}]" + (f" {place}" if place else ""))
        elif key:
            shown.append(key)
    return "; ".join(shown)


def _assumption(each: Assumption, numbers: dict[str, int]) -> dict[str, str]:
    return {
        "field": _plain(each.field),
        "value": taken(each),
        "says": unbroken(each.says),
        "cites": _cites(each.source, numbers),
        "standing": standing_words(each.standing),
    }


def taken(each: Assumption) -> str:
    """Return what is taken, as it is read: ``10 mΩ``, ``0.75 mm²``, ``ring terminal``."""
    key = each.field.rpartition(".")[2]
    if each.value.endswith(" ohm"):
        return show_resistance(float(each.value.removesuffix(" ohm")))
    if key == "joint" or each.field == "trailer.junction":
        return decapital(joint(each.value).title)
    if key == "form":
        return FORM_WORDS.get(each.value, each.value).replace("-", " ")
    if key == "live":
        return LIVE_WORDS.get(each.value, each.value)
    return unbroken(each.value.replace("_", " ").replace("mm2", "mm²"))


def _plain(field: str) -> str:
    """Return a field of the job file in words: ``trailer lamp 3 colour``."""
    for mark in "._[]":
        field = field.replace(mark, " ")
    return " ".join(field.split())


def _source(key: str, number: int) -> dict[str, str]:
    row = source(key)
    detail = ", ".join(part for part in (row.publisher, row.edition) if part)
    return {"number": str(number), "title": row.title, "detail": detail}


def _blank(rig: Rig) -> str:
    return "" if rig.notes else "Nothing noted at intake."
