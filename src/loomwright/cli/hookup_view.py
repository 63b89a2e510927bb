"""The pairing of a rig on a terminal."""

from __future__ import annotations

from rich.console import Console, Group
from rich.padding import Padding
from rich.rule import Rule as Line
from rich.table import Table
from rich.text import Text

from loomwright.cli.paint import console
from loomwright.hookup.model import End, Hookup, Pair, Standing, TrapFound
from loomwright.reference.functions import function
from loomwright.rig.model import Rig

STAGES = {
    "splice": "Splices: vehicle to lead",
    "plug": "At the plug: socket pin to trailer cord",
    "adapter": "Through the adapter",
}

WORDS = {
    Standing.SAME: "agree",
    Standing.DIFFERENT: "differ, normal",
    Standing.TRAP: "TRAP",
    Standing.UNKNOWN: "by test",
    Standing.NO_FEED: "NO FEED",
    Standing.NO_PARTNER: "cap and seal",
    Standing.NEEDS_CONVERTER: "CONVERTER",
    Standing.LOST_IN_ADAPTER: "lost",
}


def show_hookup(rig: Rig, pairing: Hookup) -> None:
    """Print the pairs stage by stage, then converters needed and traps met."""
    out = console()
    out.print(Line(Text(rig.name, style="head"), align="left", characters="─"))
    out.print("Join by function, never by colour; prove each wire with a meter first.")
    for stage, title in STAGES.items():
        pairs = pairing.at(stage)
        if pairs:
            _show_stage(out, title, pairs)
    for need in pairing.needs:
        rating = "" if need.rating_a is None else f" Rating: {need.rating_a:.3g} A a channel."
        out.print(
            Padding(Text.assemble((" NEEDED ", "must"), f"  {need.says}{rating}"), (1, 0, 0, 0))
        )
    for trap in pairing.traps:
        out.print(_trap(trap))
    out.print()


def _show_stage(out: Console, title: str, pairs: tuple[Pair, ...]) -> None:
    table = Table(box=None, pad_edge=False, title_justify="left", title_style="head")
    table.title = title
    for name in ("function", "vehicle side", "pin", "trailer side", "colours"):
        table.add_column(name, overflow="fold")
    for row in pairs:
        pin = next((end.pin for end in (row.trailer_side, row.vehicle_side) if end and end.pin), "")
        style = "must" if row.standing in (Standing.TRAP, Standing.NEEDS_CONVERTER) else ""
        table.add_row(
            function(row.function).title,
            _end(row.vehicle_side),
            pin,
            _end(row.trailer_side),
            Text(WORDS[row.standing], style=style),
        )
    out.print(Padding(table, (1, 0, 0, 0)))
    notes = [meaning for row in pairs for meaning in row.meanings]
    for note in dict.fromkeys(notes):
        out.print(Padding(Text(f"Trap: {note}."), (0, 0, 0, 2)))


def _end(end: End | None) -> str:
    if end is None:
        return "none"
    colour = f"{end.colour.code} {end.colour.words}" if end.colour is not None else end.of
    return f"{colour}, {end.size}" if end.size is not None else colour


def _trap(trap: TrapFound) -> Padding:
    mark = (" TRAP ", "must") if trap.grave else ("mind", "note")
    head = Text.assemble(mark, "  ", (trap.where, "place"))
    return Padding(
        Group(head, Padding(Group(Text(trap.says), Text(f"→ {trap.do}")), (0, 0, 0, 2))),
        (1, 0, 0, 0),
    )
