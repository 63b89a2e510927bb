"""Where on the circuit a finding is: the part it names, or the station it belongs to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from loomwright.checks.rule import Finding
from loomwright.checks.words import circuit
from loomwright.electrics.answers import Part


@dataclass(frozen=True, slots=True)
class Location:
    """A place of the circuit.

    Parameters
    ----------
    station : str
        Station of the run.
    function : str
        Circuit, "" where the whole station is meant.
    element : str
        The part, or of a station the first one; "" if the circuit has none there.
    """

    station: str
    function: str
    element: str

    @property
    def is_whole_station(self) -> bool:
        """Whether no single part is meant."""
        return not self.function


def locate(finding: Finding, parts: Mapping[str, Part]) -> Location:
    """Return where on the circuit a finding is.

    Parameters
    ----------
    finding : Finding
        What was found.
    parts : mapping of str to Part
        Every part of the circuit by its element.
    """
    for part in _named(finding, parts):
        return Location(part.station, part.function, part.element)
    hinted = list(_hinted(finding, parts))
    if not hinted:
        return Location(finding.station, "", "")
    longest = max(hinted, key=lambda part: len(circuit(part.function)))
    named = [part for part in hinted if _is_hinted(finding, part)]
    if named and all(circuit(part.function) in circuit(longest.function) for part in named):
        return Location(finding.station, longest.function, longest.element)
    return Location(finding.station, "", hinted[0].element)


def _named(finding: Finding, parts: Mapping[str, Part]) -> Iterator[Part]:
    """Yield the parts that a finding names outright, the likeliest first."""
    exact = [part for part in parts.values() if part.place == finding.where]
    yield from sorted(exact, key=lambda part: part.station != finding.station)
    lamp = finding.where.removesuffix(" lamp")
    if finding.station == "load" and lamp != finding.where:
        mine = [
            part
            for part in parts.values()
            if part.station == "load" and part.ref.startswith(f"trailer.lamp.{lamp}.")
        ]
        yield from sorted(mine, key=lambda part: not _tells_of(finding, part))
    if finding.station == "fuse":
        yield from (
            part
            for part in parts.values()
            if part.station == "feed" and part.kind == "wire" and _is_feed(finding, part)
        )


def _tells_of(finding: Finding, part: Part) -> bool:
    return circuit(part.function) in finding.says.partition(":")[0].casefold()


def _is_feed(finding: Finding, part: Part) -> bool:
    words = finding.where.partition("vehicle, ")[2]
    return bool(words) and circuit(part.function) in words


SHARED = frozenset({"load", "plug", "socket"})
"""Stations of many parts, none of which stands for the others."""


def _hinted(finding: Finding, parts: Mapping[str, Part]) -> Iterator[Part]:
    """Yield the parts of a finding's station: those of the socket, load or circuit it names."""
    there = [part for part in parts.values() if part.station == finding.station]
    owned = [part for part in there if _owner(part) and _owner(part) in finding.where]
    meant = [part for part in owned or there if _is_hinted(finding, part)] or owned
    if meant or finding.station not in SHARED:
        yield from meant or there


def _is_hinted(finding: Finding, part: Part) -> bool:
    """Whether a finding names the circuit of a part, or the frame."""
    if part.kind == "frame":
        return "frame" in finding.where
    is_wire = finding.where.startswith(f"{part.function} wire")
    return is_wire or circuit(part.function) in finding.where


def _owner(part: Part) -> str:
    """Return the name of the socket, or of the load, that a part belongs to."""
    head, _, rest = part.ref.partition(".")
    if head == "socket":
        for mark in (".lead.", ".pin.", ".ground"):
            if mark in rest:
                return rest.partition(mark)[0]
    if part.ref.startswith(("trailer.lamp.", "trailer.brake.", "trailer.appliance.")):
        return part.ref.split(".", 2)[2].rpartition(".")[0] or part.ref.split(".", 2)[2]
    return ""
