"""Score trace by a file of cases met in practice, and show the misses."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, Any

from loomwright.cli.bar import with_bar
from loomwright.cli.codes import DONE
from loomwright.cli.files import read_text
from loomwright.cli.paint import Page, listing
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from loomwright.trace.cases import CaseScore
    from loomwright.trace.cases_read import Case

HIT = 3
"""A cause ranked among the first so many would be looked at soon enough."""


def score_cases(file: Path, *, as_json: bool) -> int:
    """Score every case of a file and print the result.

    Parameters
    ----------
    file : Path
        A file of the schema ``trailer-diagnostic-cases/1``.
    as_json : bool
        Print plain values for other programs, each case in full.
    """
    from loomwright.trace.cases_read import read_cases
    from loomwright.trace.cases_report import cases_report

    cases = read_cases(_toml(file), str(file))
    scores = with_bar("Ranking the cases", lambda told: _scores(cases, told))
    report = cases_report(scores)
    if as_json:
        print(json.dumps(report))
    else:
        _show(report, file)
    return DONE


def _toml(file: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(read_text(file))
    except tomllib.TOMLDecodeError as problem:
        raise InvalidInput("cases", str(file), f"give a TOML file of cases ({problem})") from None


def _scores(cases: Sequence[Case], told: Callable[[int, int], None]) -> list[CaseScore]:
    from loomwright.trace.cases import Stands, score

    stands = Stands()
    found = []
    for number, case in enumerate(cases, start=1):
        found.append(score(case, stands.of(case)))
        told(number, len(cases))
    return found


def _show(report: dict[str, Any], file: Path) -> None:
    page = Page()
    page.head(f"{report['count']} cases of {file.name}")
    heads = ("true cause", "first", "first three", "first five")
    rows = [
        (said, *(f"{share:.0%}" for share in report["share"][key].values()))
        for key, said in (
            ("accepted", "or what cannot be told from it"),
            ("expected", "itself"),
            ("place", "by its place alone"),
        )
    ]
    page.show(listing(heads, rows))
    page.line()
    missed = [each for each in report["cases"] if not 0 < each["rank"] <= HIT]
    page.head("Missed: not among the first three" if missed else "Nothing missed")
    for case in missed:
        _show_case(page, case)
    skipped = [(each["case"], told) for each in report["cases"] for told in each["skipped"]]
    if skipped:
        page.head("Not read")
        for key, told in skipped:
            page.bullet(f"{key}:", told)


def _show_case(page: Page, case: dict[str, Any]) -> None:
    page.ends(f"{case['case']} {case['title']}", f"rank {case['rank'] or 'none'}")
    said = ", ".join((*case["expected"], *case["accepted"])) or "nothing"
    page.line(f"{case['place']}, {case['form']}; accepted: {said}", indent=2)
    for each in case["ranked"][:HIT]:
        page.bullet(f"{each['probability']:.0%}", f"{each['fault']} {each['title']}", indent=2)
