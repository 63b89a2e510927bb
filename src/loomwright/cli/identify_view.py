"""What is known of a bundle, on a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from loomwright.cli.paint import Page, listing
from loomwright.identify.identification import Identification, Identified
from loomwright.identify.question import NEAR, Question


def show_identification(found: Identification) -> None:
    """Print the wires, doubtful readings, what stays open, and the next question."""
    page = Page()
    known = sum(each.is_settled for each in found.wires)
    said = f"{known} of {len(found.wires)} wires known, {len(found.readings)} readings"
    page.head(said, heavy=True)
    heads = ("wire", "colour", "what it is", "sure", "read")
    page.show(listing(heads, [_row(each) for each in found.wires]))
    for doubt in found.doubts:
        page.line()
        page.bullet("!", f"Likely wrong: wire {doubt.reading.wire}, {doubt.reading.says}.")
    if found.left_open:
        page.line()
        page.head("What stays open")
        for each in found.left_open:
            page.bullet("-", each)
    if found.question is not None:
        if not found.readings:
            show_cautions(page, found)
        page.line()
        show_question(page, found.question)


def show_cautions(page: Page, found: Identification) -> None:
    """Print what to heed before the first probe."""
    page.line()
    page.head("Before the first probe")
    for each in found.cautions:
        page.bullet("!", each)


def show_question(page: Page, asked: Question) -> None:
    """Print one question with its answers."""
    page.head(f"Next: wire {asked.wire}, {asked.title}")
    if asked.caution:
        page.bullet("!", asked.caution, style="should")
    page.line(asked.hold)
    page.line(asked.touch)
    page.line(asked.why, "quiet")
    words = (*asked.answers, *asked.summaries)
    rows = [(_mark(each, words), str(each), NEAR[each]) for each in words]
    if asked.unit:
        rows.append((f"12.3 {asked.unit}" if asked.unit == "V" else "0.4 ohm", "the number", ""))
    page.show(listing(("type", "what it shows", ""), rows))


def _mark(answer: str, among: Sequence[str]) -> str:
    """Return the shortest beginning that no other answer has."""
    for length in range(1, len(answer)):
        if sum(each.startswith(answer[:length]) for each in among) == 1:
            return answer[:length]
    return answer


def _row(each: Identified) -> tuple[str, ...]:
    best = each.guesses[0]
    rest = f", or {each.guesses[1].title}" if not each.is_settled and len(each.guesses) > 1 else ""
    colour = each.wire.colour.words if each.wire.colour else ""
    mark = "known" if each.is_settled else f"{best.probability:.0%}"
    return (each.wire.key, colour, best.title + rest, mark, each.how)
