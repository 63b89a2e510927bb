"""What is known of a bundle of unknown wires, as plain values for other programs."""

from __future__ import annotations

from typing import Any

from loomwright.identify.identification import Identification, Identified
from loomwright.identify.plain import bundle_to_plain, reading_to_plain
from loomwright.identify.question import Question

FORMAT = "loomwright/identify"
VERSION = 1


def identification_report(found: Identification) -> dict[str, Any]:
    """Return an identification as plain values: wires, next question, what stays open."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "bundle": bundle_to_plain(found.bundle),
        "readings": [reading_to_plain(each) for each in found.readings],
        "settled": found.is_settled,
        "wires": [_wire(each) for each in found.wires],
        "next": None if found.question is None else _question(found.question),
        "doubtful_readings": [
            {"reading": each.place, "probability_wrong": round(each.probability, 6)}
            for each in found.doubts
        ],
        "left_open": list(found.left_open),
        "cautions": list(found.cautions),
        "signalling": {str(key): round(p, 6) for key, p in found.signalling.items()},
        "feeding": {str(key): round(p, 6) for key, p in found.feeding.items()},
        "entropy_bits": round(found.entropy_bits, 6),
        "wire_map": [
            {
                "function": each.function,
                "colour": each.colour,
                "size": each.size,
                "found": each.found,
                "verified_how": each.how,
            }
            for each in found.kept_wires
        ],
    }


def _wire(each: Identified) -> dict[str, Any]:
    return {
        "key": each.wire.key,
        "colour": each.wire.colour.words if each.wire.colour else None,
        "function": each.function,
        "settled": each.is_settled,
        "verified_how": each.how,
        "may_be": [
            {
                "functions": list(guess.functions),
                "title": guess.title,
                "probability": round(guess.probability, 6),
            }
            for guess in each.guesses
        ],
    }


def _question(asked: Question) -> dict[str, Any]:
    return {
        "command": asked.command,
        "hold": asked.hold,
        "wire": asked.wire,
        "tester": str(asked.tester),
        "touch": asked.touch,
        "answers": [str(each) for each in asked.answers],
        "summaries": list(asked.summaries),
        "unit": asked.unit,
        "why": asked.why,
        "caution": asked.caution,
        "bits": round(asked.bits, 6),
        "then": list(asked.then),
    }
