"""Draw the pictures of the README and the docs from the example rigs.

Run as `.venv/bin/python -m tools.draw_docs`; a test compares the files with what this draws. Each
picture carries the letters it needs, for it is shown where no font can be fetched, and lies on
paper, for it is shown on dark pages as well.
"""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterable
from importlib.resources import files
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from loomwright import check, examples, read_rig, survey
from loomwright.checks.rule import Finding, Severity
from loomwright.drawing.faces import socket_face
from loomwright.drawing.ink import PAPER
from loomwright.drawing.ladder import drop_ladder
from loomwright.drawing.run import FindingMark, run_drawing
from loomwright.reference.connectors import connector

PICTURES = Path(__file__).parents[1] / "docs" / "pictures"
DEMO = examples.DEMO
COMMAND = "park+brake_pedal"
"""The heaviest thing a driver does every day: all tail lamps, stop lamps and brakes at once."""

FAR_LOAD = "left rear tail"
GRAVE = (Severity.DANGER, Severity.MUST)
FONTS = {400: "Inter-Regular.ttf", 700: "Inter-Bold.ttf"}
FALLBACK = "Inter, 'Helvetica Neue', Arial, 'Liberation Sans', sans-serif"
CARRIED = re.compile(r"<style>.*?</style>\n", re.S)


def pictures() -> dict[str, str]:
    """Return each picture's file name and SVG text, without its letters."""
    work = survey(read_rig(examples.text(DEMO), DEMO))
    answer = work.answers.at(COMMAND)
    socket = work.rig.towing_socket
    blade = connector(socket.connector)
    run = run_drawing(work.rig, answer, _marks(check(work)), "park lamps and brake pedal")
    drawn = {
        "run.svg": run,
        "ladder.svg": drop_ladder(answer.load(FAR_LOAD)),
        "face.svg": socket_face(blade, "face", socket.lead),
        "wire-side.svg": socket_face(blade, "rear", socket.lead),
    }
    return {name: on_paper(svg) for name, svg in drawn.items()}


def with_letters(svg: str) -> str:
    """Return a picture that carries the glyphs of its own text."""
    letters = set("".join(re.findall(r">([^<]+)<", svg)))
    faces = "".join(
        f"@font-face{{font-family:Inter;font-weight:{weight};"
        f"src:url(data:font/woff2;base64,{_subset(name, letters)})}}"
        for weight, name in FONTS.items()
    )
    return svg.replace("<title>", f"<style>{faces}</style>\n<title>", 1)


def without_letters(svg: str) -> str:
    """Return a picture as drawn, to compare: packed letters differ from machine to machine."""
    return CARRIED.sub("", svg)


def on_paper(svg: str) -> str:
    """Return a picture with paper under it and letters every reader has."""
    sheet = f'</desc>\n<rect width="100%" height="100%" fill="{PAPER}"/>'
    named = svg.replace('font-family="Inter"', f'font-family="{FALLBACK}"', 1)
    return named.replace("</desc>", sheet, 1) + "\n"


def _subset(name: str, letters: set[str]) -> str:
    data = files("loomwright.drawing").joinpath("fonts", name).read_bytes()
    font = TTFont(io.BytesIO(data), recalcTimestamp=False)
    subsetter = Subsetter(Options(layout_features=["kern", "calt", "tnum"], hinting=False))
    subsetter.populate(text="".join(sorted(letters)))
    subsetter.subset(font)
    font.flavor = "woff2"
    packed = io.BytesIO()
    font.save(packed)
    return base64.b64encode(packed.getvalue()).decode("ascii")


def _marks(findings: Iterable[Finding]) -> list[FindingMark]:
    """Return the graver findings by their station."""
    grave = (each for each in findings if each.station and each.severity in GRAVE)
    return [(each.station, "", each.rule, each.severity.value) for each in grave]


def main() -> None:
    """Write every picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, svg in pictures().items():
        (PICTURES / name).write_text(with_letters(svg), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
