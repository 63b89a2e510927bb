"""The page `docs/reference/identification.md`: probes needed, and how far a 95 % can be trusted."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from benchmarks.identify import KINDS, Trial, guided, plain

PAGE = Path(__file__).resolve().parent.parent / "docs" / "reference" / "identification.md"
WRONG_RATES = (0.0, 0.02, 0.05)
TOLD_SURE = 0.95

HEAD = """\
# Unknown wires: probes needed, and how sure is sure

Made by `python -m benchmarks.identify_page`; do not edit. {count} trials on simulated
vehicles; the same vehicles at each rate of wrong readings.

Vehicles are drawn by rules of their own (`benchmarks/identify_vehicles.py`), not by the tables
that identification works with: real sets of functions with some missing and some wires that carry
nothing or data, pulsed lamps, feeds live with the key or held off, brake outputs that wait for a
load. A wrong reading is one of another wire, of a command that was not held, or of a number noted
wrongly. Identification takes 2 % of the readings to be wrong, whatever the true rate; colours are
not known; the wires are loose, so that a lamp may load only what is known to be a feed.

**Plain** is every wire under every command that any of the functions answers, ohms on what is
dead at rest, and the function whose row of the table differs least. It reads each thing once.

| bundle | wrong | vehicles | probes | of 100, 95 | worst | commands | plain | plain: worst | \
plain: commands | right | plain: right | known for good |
| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |
"""

SURE = """
## How sure is sure

Of the wires that were said to be 95 % sure or more at the end, so many were right:

| wrong readings | wires | said 95 % sure | of these right | known for good, and wrong |
| ---: | ---: | ---: | ---: | ---: |
"""

CLOSE = """
A wire that is not known for good is told as open, with what would tell: most are charge lines
that wait for their conditions, which read like a wire that carries nothing.
"""

Pairs = list[tuple[Trial, Trial]]


def main(arguments: list[str]) -> int:
    """Simulate, write the page; 0 if all went well."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.identify_page", description=__doc__)
    parser.add_argument("--vehicles", type=int, default=80, help="of each kind and rate")
    parser.add_argument("--large", type=int, default=14, help="of the twelve-core kind")
    parser.add_argument("--output", type=Path, default=PAGE, help="page to write")
    given = parser.parse_args(arguments)
    found = {}
    for rate in WRONG_RATES:
        for kind in KINDS:
            count = given.large if kind == "twelve-core" else given.vehicles
            found[rate, kind] = [
                (guided(seed, rate, kind), plain(seed, rate, kind)) for seed in range(count)
            ]
            print(f"{kind}, {rate:.0%} wrong: done", file=sys.stderr, flush=True)
            given.output.write_text(page(found), "utf-8")
    return 0


def page(found: dict[tuple[float, str], Pairs]) -> str:
    """Return the page as Markdown."""
    rows = [_row(kind, rate, pairs) for (rate, kind), pairs in found.items()]
    rates = dict.fromkeys(rate for rate, _ in found)
    sure = [
        _sure(rate, [g for (r, _), pairs in found.items() if r == rate for g, _ in pairs])
        for rate in rates
    ]
    head = HEAD.format(count=f"{sum(len(pairs) for pairs in found.values()):,}")
    return head + "\n".join(rows) + "\n" + SURE + "\n".join(sure) + "\n" + CLOSE


def _row(kind: str, rate: float, pairs: Pairs) -> str:
    ours, theirs = [g for g, _ in pairs], [p for _, p in pairs]
    probes = [each.probes for each in ours]
    cells = (
        kind,
        f"{rate:.0%}",
        str(len(pairs)),
        f"**{np.mean(probes):.1f}**",
        f"{np.quantile(probes, 0.95):.0f}",
        str(max(probes)),
        f"{np.mean([each.changes for each in ours]):.1f}",
        f"{np.mean([each.probes for each in theirs]):.1f}",
        str(max(each.probes for each in theirs)),
        f"{np.mean([each.changes for each in theirs]):.1f}",
        f"{_right(ours):.1%}",
        f"{_right(theirs):.1%}",
        f"{np.mean([sure for each in ours for sure in each.sure]):.1%}",
    )
    return "| " + " | ".join(cells) + " |"


def _sure(rate: float, trials: Sequence[Trial]) -> str:
    said = [each for trial in trials for each in trial.said]
    told = [right for p, right in said if p >= TOLD_SURE]
    good = sum(each.sure_and_wrong for each in trials)
    settled = sum(sum(each.sure) for each in trials)
    return (
        f"| {rate:.0%} | {len(said)} | {len(told)} | **{np.mean(told):.2%}** "
        f"| {good} of {settled} |"
    )


def _right(trials: Sequence[Trial]) -> float:
    return float(np.mean([right for each in trials for _, right in each.said]))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
