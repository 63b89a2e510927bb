"""Reading the pages: fenced blocks, links, headings."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
FENCE = re.compile(r"^```(?P<kind>\w*)\n(?P<text>.*?)^```$", re.M | re.S)
LINK = re.compile(r"(?<!!)\[[^\]]*\]\((?P<target>[^)\s]+)\)|!\[[^\]]*\]\((?P<picture>[^)\s]+)\)")
HEADING = re.compile(r"^#{1,6} (?P<words>.+)$", re.M)


@dataclass(frozen=True, slots=True)
class Block:
    """A fenced block of a page: its language and its text."""

    kind: str
    text: str


def page(name: str) -> str:
    """Text of a page, named from the root of the project."""
    return (ROOT / name).read_text("utf-8")


def every_page() -> list[Path]:
    """Every Markdown page that people read."""
    return sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])


def blocks(text: str) -> Iterator[Block]:
    """Fenced blocks of a page, in order."""
    for found in FENCE.finditer(text):
        yield Block(found["kind"], found["text"])


def links(text: str) -> Iterator[str]:
    """Where the links and pictures of a page go, code left out."""
    bare = re.sub(r"`[^`\n]*`", "", FENCE.sub("", text))
    for found in LINK.finditer(bare):
        yield found["target"] or found["picture"]


def anchors(text: str) -> set[str]:
    """Addresses of the headings, as the usual readers of Markdown make them."""
    words = (found["words"].lower() for found in HEADING.finditer(FENCE.sub("", text)))
    return {re.sub(r"[^\w -]", "", each).replace(" ", "-") for each in words}
