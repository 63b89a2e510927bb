"""RETN01: returns joined that the connector keeps apart."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import listed
from loomwright.reference.connectors import Connector, connector

CODE = "RETN01"
SOURCE = "iso-11446-1: contact allocation, note 1"


def returns_joined(work: Work) -> Iterator[Finding]:
    """Flag returns of one plug that meet on the trailer though its standard keeps them apart.

    Which returns those are stands in the connector's table: 3, 11 and 13 of the 13-pin, both of
    the 12S.
    """
    plug = connector(work.rig.trailer.plug)
    for group in work.rig.trailer.joined_returns:
        joined = sorted(_pins(plug, group) & plug.returns_kept_apart, key=int)
        if len(joined) > 1:
            yield Finding(
                rule=CODE,
                severity=Severity.MUST,
                where="trailer junction",
                says=f"Returns {listed(joined)} of the {plug.key} plug meet on the trailer.",
                why="A lost return then hides: charge current comes home through the lamp ground.",
                fix="Run each return to its own pin; join them at the vehicle's end only.",
                source=plug.pin(joined[0]).source,
                station="junction",
            )


def _pins(plug: Connector, group: tuple[str, ...]) -> frozenset[str]:
    """Pins by their numbers, or by the functions they carry."""
    return frozenset(
        pin.number for pin in plug.pins if pin.number in group or pin.function in group
    )


RULE = Rule(CODE, "Returns joined that belong apart", SOURCE, returns_joined)
