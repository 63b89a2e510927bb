"""`loomwright maps`: verified wire maps of vehicles, kept for the shop."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cyclopts import App, Parameter

from loomwright.cli.codes import DONE
from loomwright.cli.paint import Page, listing
from loomwright.cli.shop import OWN, SHORT, Shop, opened, rig_called, the_one, user
from loomwright.invalid import InvalidInput, raise_all

if TYPE_CHECKING:
    from loomwright.store.store import Store
    from loomwright.store.wire_maps import WireMap

maps = App(
    name="maps",
    help="List, show, keep and retire the verified wire maps of vehicles.",
    result_action="return_value",
    default_parameter=Parameter(negative=()),
)


@maps.command(name="list")
def list_maps(*words: str, shop: Shop = OWN) -> int:
    """List the wire maps that have every one of WORDS, the newest first.

    Parameters
    ----------
    shop
        Where the shop's rigs and records are kept.
    words
        Words, or parts of words, of the vehicle, what it fits, or the notes.
    """
    with opened(shop) as store:
        found = store.wire_maps.wire_maps(" ".join(words))
    if found:
        rows = [
            (one.id[:SHORT], str(len(one.wires)), f"{one.kept_at:%Y-%m-%d}", one.kept_by, one.fits)
            for one in found
        ]
        Page().show(listing(("map", "wires", "kept", "by", "fits"), rows))
    else:
        Page().line("No such wire map is kept: `loomwright maps keep RIG` keeps one.")
    return DONE


@maps.command
def show(wire_map: str, /, *, shop: Shop = OWN) -> int:
    """Show the wires of WIRE-MAP: function, colour, where found, how verified.

    Parameters
    ----------
    wire_map
        Id of the map, or the start of it.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        found = _called(store, wire_map)
    from loomwright.drawing.function_words import function_words

    page = Page()
    page.head(found.vehicle)
    page.line(f"Fits: {found.fits}. Kept {found.kept_at:%Y-%m-%d} by {found.kept_by}.")
    for wire in found.wires:
        page.ends(function_words(wire.function), wire.colour or "no colour", indent=2)
        said = [wire.size, wire.found, f"{wire.verified_how}, {wire.verified_at:%Y-%m-%d}"]
        page.line(" · ".join(part for part in said if part), "quiet", indent=4)
    if found.notes:
        page.line(found.notes)
    page.line("Test each wire all the same: vehicles of one name differ.", "quiet")
    return DONE


@maps.command
def keep(
    rig: str,
    /,
    *,
    how: str = "",
    wire: tuple[str, ...] = (),
    fits: str = "",
    notes: str = "",
    shop: Shop = OWN,
) -> int:
    """Keep the vehicle's wires of RIG for the shop, with how each was proved.

    Parameters
    ----------
    rig
        Name of a rig or a part of it, its id or the start of it.
    how
        How all of them were proved: "meter at the wire, its command on and off".
    wire
        How one was proved, as FUNCTION=HOW; give it again for more. Without --how only these
        are kept.
    fits
        Names of vehicles it holds for, * for any letters; else the vehicle's own.
    notes
        What else to know of such a vehicle.
    shop
        Where the shop's rigs and records are kept.
    """
    fix = 'write FUNCTION=HOW, such as "tail=meter at the wire, its command on and off"'
    raise_all([InvalidInput("wire", one, fix) for one in wire if "=" not in one], "the wires")
    parted = (one.partition("=") for one in wire)
    proofs = {function.strip(): said.strip() for function, _, said in parted}
    with opened(shop) as store:
        entry = rig_called(store, rig)
        if how:
            proofs = _functions(store, entry.id, how) | proofs
        if not proofs:
            fix = "say how the wires were proved; nobody else can trust them without"
            raise InvalidInput("how", how, fix)
        kept = store.wire_maps.keep_wire_map(entry.id, proofs, user(), fits=fits, notes=notes)
    count = "1 wire" if len(kept.wires) == 1 else f"{len(kept.wires)} wires"
    Page().line(f"Kept: {count} of {kept.vehicle}, offered where {kept.fits} is described.")
    return DONE


@maps.command
def retire(wire_map: str, /, *, shop: Shop = OWN) -> int:
    """Offer WIRE-MAP no more: it was found wrong.

    Parameters
    ----------
    wire_map
        Id of the map, or the start of it.
    shop
        Where the shop's rigs and records are kept.
    """
    with opened(shop) as store:
        found = _called(store, wire_map)
        store.wire_maps.retire_wire_map(found.id, user())
    Page().line(f"Retired: the wire map of {found.vehicle} ({found.id[:SHORT]}).")
    return DONE


def _functions(store: Store, rig_id: str, how: str) -> dict[str, str]:
    """Return the same proof for every wire of a rig's vehicle."""
    from loomwright.rig.read import read_job

    feeds = read_job(store.rigs.newest(rig_id).text).vehicle.feeds
    return {each.function: how for each in feeds}


def _called(store: Store, said: str) -> WireMap:
    """Return the wire map of an id, or of the start of one.

    Raises
    ------
    InvalidInput
        If there is none, or more than one.
    """
    low = said.strip().casefold()
    every = store.wire_maps.wire_maps()
    found = [one for one in every if low and one.id.startswith(low)]
    return the_one("wire map", said, found, every, lambda one: f"{one.id[:SHORT]} {one.vehicle}")
