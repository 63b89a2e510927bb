"""The pairing of a rig on a terminal."""

from __future__ import annotations

from collections.abc import Iterable

from rich.text import Text

from loomwright.cli.paint import Page, listing, words
from loomwright.drawing.function_words import function_words
from loomwright.hookup.model import ConverterNeed, End, Hookup, Pair, SpliceChoice, Standing
from loomwright.quantities import Units, show_current, show_diameter
from loomwright.reference.joints import joint
from loomwright.rig.model import Rig

STAGES = {
    "plug": "At the plug: pins of the socket and of the trailer",
    "adapter": "Through the adapter: pins of the socket and of the trailer",
}

WORDS = {
    Standing.SAME: "agree",
    Standing.DIFFERENT: "differ, normal",
    Standing.TRAP: "TRAP",
    Standing.UNKNOWN: "by test",
    Standing.NO_FEED: "NO FEED",
    Standing.NO_PARTNER: "cap and seal",
    Standing.NEEDS_CONVERTER: "CONVERTER",
    Standing.LOST_IN_ADAPTER: "LOST",
}
GRAVE = (
    Standing.TRAP,
    Standing.NO_FEED,
    Standing.NEEDS_CONVERTER,
    Standing.LOST_IN_ADAPTER,
)


def show_hookup(rig: Rig, pairing: Hookup) -> None:
    """Print the pairs stage by stage, then converters needed and traps met."""
    page = Page()
    page.head(rig.name)
    page.line("Join by function, never by colour; prove each wire with a meter first.")
    splices = pairing.at("splice")
    for name in dict.fromkeys(pair.socket for pair in splices):
        mine = [pair for pair in splices if pair.socket == name]
        _show_stage(page, f"Splices of the {name}", mine)
        _show_joints(page, mine, rig.units)
    for stage, title in STAGES.items():
        pairs = pairing.at(stage)
        if pairs:
            _show_stage(page, title, pairs)
    for need in pairing.needs:
        _show_need(page, need)
    _show_traps(page, pairing)


def _show_stage(page: Page, title: str, pairs: Iterable[Pair]) -> None:
    shown = list(pairs)
    page.line()
    page.head(title)
    heads = ("pin", "function", "vehicle side", "trailer side", "colours")
    page.show(listing(heads, [_row(pair) for pair in shown]))
    for pair in shown:
        if pair.standing in GRAVE and not pair.meanings:
            page.bullet("→", f"{pair.says} {pair.do}", indent=2)
    for meaning in dict.fromkeys(each for pair in shown for each in pair.meanings):
        page.bullet("TRAP", f"{meaning[:1].upper()}{meaning[1:].rstrip('.')}.", indent=2)


def _row(pair: Pair) -> tuple[str | Text, ...]:
    style = "must" if pair.standing in GRAVE else ""
    return (
        _pin(pair),
        function_words(pair.function),
        _end(pair.vehicle_side),
        _end(pair.trailer_side),
        words(_standing(pair), style),
    )


def _pin(pair: Pair) -> str:
    """Pin of the socket; of socket and plug, where an adapter joins other numbers."""
    pins = [end.pin for end in (pair.vehicle_side, pair.trailer_side) if end and end.pin]
    return " → ".join(dict.fromkeys(pins)) if pair.stage != "splice" else "".join(pins[-1:])


def _standing(pair: Pair) -> str:
    if pair.vehicle_side is not None and pair.vehicle_side.of == "frame":
        return "ring"
    if pair.standing is Standing.NO_PARTNER:
        if pair.stage != "splice":
            return "not taken"
        return "leave whole" if pair.do.startswith("Leave") else "cap and seal"
    return WORDS[pair.standing]


def _end(end: End | None) -> str:
    if end is None:
        return "none"
    if end.of == "frame":
        return "own ring, bare frame"
    size = "" if end.size is None else f" {str(end.size).replace(' ', chr(0xA0))}"
    if end.colour is not None:
        return f"{end.colour.words}{size}"
    return f"{end.of}{size}"


def _show_joints(page: Page, pairs: Iterable[Pair], units: Units) -> None:
    """Say once for each kind of joint which conductors it serves."""
    made: dict[str, list[str]] = {}
    for pair in pairs:
        if pair.splice is not None:
            kept = made.setdefault(_joint(pair.splice, units), [])
            kept.append(function_words(pair.function))
    for said, functions in made.items():
        page.bullet("joint", f"{', '.join(functions)}: {said}", indent=2)


def _joint(splice: SpliceChoice, units: Units) -> str:
    strip = "" if splice.strip_mm is None else f"strip {show_diameter(splice.strip_mm, units)}"
    parts = [joint(splice.kind).title, splice.barrel, strip, splice.shrink]
    if not splice.fits or splice.kind in ("butt", "sealed-butt", "step-down-butt"):
        parts.append(splice.note.removeprefix(f"{joint(splice.kind).title}: "))
    return "; ".join(dict.fromkeys(part for part in parts if part))


def _show_need(page: Page, need: ConverterNeed) -> None:
    page.line()
    page.head(" NEEDED ", heavy=True, style="must")
    page.line(need.says, indent=2)
    if need.rating_a is not None:
        each = "each output" if need.rating_of == "channel" else "in all"
        page.bullet("→", f"Rated for {show_current(need.rating_a)} or more, {each}.", indent=2)


def _show_traps(page: Page, pairing: Hookup) -> None:
    for grave, title in ((True, " TRAPS ON THIS RIG "), (False, "Traps close by")):
        traps = [trap for trap in pairing.traps if trap.grave is grave]
        if not traps:
            continue
        page.line()
        page.head(title, heavy=grave, style="must" if grave else "head")
        for number, trap in enumerate(traps):
            if number:
                page.line()
            page.line(f"{trap.title}: {trap.where}", "place", indent=2)
            page.line(trap.says, indent=2)
            page.bullet("→", trap.do, indent=2)
