"""Trace put to the test at length: `python -m benchmarks.trace_selftest`.

Faults by the thousand in random rigs, told by a person who errs; breaks hunted with a meter in
three ways. Prints the tables of `docs/trace.md` and draws its picture.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from benchmarks.trace_picture import picture
from loomwright.trace.selftest import SelfTest, self_test
from loomwright.trace.selftest_measure import Hunt, hunts
from loomwright.trace.selftest_watched import FORMS, Watched, watched

PICTURE = Path(__file__).parents[1] / "docs" / "pictures" / "trace-selftest.svg"
WAYS = {"asked": "as trace asks", "halves": "by halves", "checklist": "by the checklist"}
JUDGED = {
    "part": "the very part and form",
    "alike": "as far as lamps and brakes can tell",
    "place": "the kind of place",
    "side": "vehicle, coupling or trailer",
}


def main(arguments: Sequence[str]) -> int:
    """Run both tests, print what they gave, and draw it."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.trace_selftest")
    parser.add_argument("--rigs", type=int, default=40)
    parser.add_argument("--faults", type=int, default=60, help="in each rig")
    parser.add_argument("--hunted-rigs", type=int, default=14)
    parser.add_argument("--watched-rigs", type=int, default=12)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--picture", type=Path, default=PICTURE)
    given = parser.parse_args(arguments)
    test = self_test(given.rigs, given.faults, given.seed)
    print("\n".join(found_table(test)), end="\n\n")
    print("\n".join(form_table(test)), end="\n\n")
    asked = watched(given.watched_rigs, 6, given.seed + 2)
    print("\n".join(watched_table(asked)), end="\n\n")
    hunted = hunts(given.hunted_rigs, 14, given.seed + 1)
    print("\n".join(hunt_table(hunted)))
    given.picture.write_text(picture(test.calibration(), measured(hunted)), "utf-8")
    return 0


def found_table(test: SelfTest) -> list[str]:
    """Return how high the true fault ranks, as lines of a page."""
    lines = [f"{len(test.found)} faults in {test.rigs} rigs, seed {test.seed}:", ""]
    lines += ["| judged by | first | first three | first five |", "|---|---|---|---|"]
    for key, says in JUDGED.items():
        shares = " | ".join(f"{test.share(key, first):.0%}" for first in (1, 3, 5))
        lines.append(f"| {says} | {shares} |")
    lines += ["", f"Belief and share right differ by {test.miscalibration():.1%} on average."]
    return lines


def form_table(test: SelfTest) -> list[str]:
    """Return the share found by form, as lines of a page."""
    lines = ["| form | faults | first three | and told whether it comes and goes |"]
    lines.append("|---|---|---|---|")
    alike, kind = test.by_form("alike"), test.by_form("same_kind")
    for form, (share, count) in sorted(alike.items(), key=lambda each: -each[1][1]):
        lines.append(f"| {form} | {count} | {share:.0%} | {kind[form][0]:.0%} |")
    return lines


def watched_table(found: Sequence[Watched]) -> list[str]:
    """Return how far asking helps with what comes and goes or stays on, as lines of a page."""
    lines = ["| form | faults | first three after the walk | after two questions |"]
    lines.append("|---|---|---|---|")
    for form in FORMS:
        of_form = [each for each in found if each.form == form]
        before, after = (
            np.mean([getattr(each, rank) <= 3 for each in of_form])
            for rank in ("rank_before", "rank_after")
        )
        lines.append(f"| {form} | {len(of_form)} | {before:.0%} | {after:.0%} |")
    return lines


def hunt_table(found: Sequence[Hunt]) -> list[str]:
    """Return how many measurements each way takes, as lines of a page."""
    lines = [f"{len(found)} breaks:", "", "| way | mean | half within | nine in ten within |"]
    lines.append("|---|---|---|---|")
    for key, says in WAYS.items():
        counts = [getattr(each, key) for each in found]
        half, most = np.percentile(counts, [50, 90])
        lines.append(f"| {says} | {np.mean(counts):.1f} | {half:.0f} | {most:.0f} |")
    right = np.mean([each.right for each in found])
    gave_up = np.mean([each.gave_up for each in found])
    lines += ["", f"Asked, trace named the very part in {right:.0%}; it gave up in {gave_up:.0%}."]
    return lines


def measured(found: Sequence[Hunt]) -> list[tuple[str, float, float]]:
    """Return each way with its mean number of measurements and nine in ten's."""
    rows = []
    for key, says in WAYS.items():
        counts = [getattr(each, key) for each in found]
        rows.append((says, float(np.mean(counts)), float(np.percentile(counts, 90))))
    return rows


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
