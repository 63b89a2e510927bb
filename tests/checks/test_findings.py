"""What every finding keeps, on whole rigs from file to findings."""

import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from time import process_time

import pytest
from tests.checks.builders import solved
from tests.rigs import brake_rig, caravan_rig, simple_rig, van_rig

from loomwright.checks.collect import check, check_rig
from loomwright.checks.rule import Finding, Severity, Work
from loomwright.electrics.answers import STATIONS
from loomwright.examples import names, text
from loomwright.reference.sources import cited, sources
from loomwright.rig.model import Rig
from loomwright.rig.read import read_rig

HAND_MADE = {
    "simple": simple_rig,
    "brake": brake_rig,
    "van": van_rig,
    "caravan": lambda: caravan_rig(jurisdiction="GB"),
}
WHOLE = (*HAND_MADE, *names())
STANDINGS = {"found", "memory", "common practice"}
NEVER_SHOWN = re.compile(r"\b(inf|nan|None|True|False)\b|\de[+-]?\d\d|_")


def rig_of(name: str) -> Rig:
    return HAND_MADE[name]() if name in HAND_MADE else read_rig(text(name))


@cache
def work_of(name: str) -> Work:
    return solved(rig_of(name))


@cache
def findings_of(name: str) -> tuple[Finding, ...]:
    return check(work_of(name))


def every_finding() -> Iterator[tuple[str, Finding]]:
    for name in WHOLE:
        for finding in findings_of(name):
            yield f"{name}: {finding.rule}: {finding.says}", finding


def test_every_finding_says_what_where_why_and_what_to_do() -> None:
    for where, finding in every_finding():
        assert finding.where, where
        for sentence in (finding.says, finding.why, finding.fix):
            assert sentence.endswith((".", ".)")), f"{where}: {sentence}"
            assert not NEVER_SHOWN.search(sentence), f"{where}: {sentence}"


def test_a_number_has_its_unit_and_is_finite() -> None:
    for where, finding in every_finding():
        for number in (finding.value, finding.limit):
            assert number is None or abs(number) < 1e7, where
        assert (finding.value is None and finding.limit is None) or finding.unit, where


def test_every_source_is_in_the_table_of_sources() -> None:
    known = {source.key for source in sources()}
    for where, finding in every_finding():
        assert {key for key, _ in cited(finding.source)} <= known, where
        assert finding.standing in STANDINGS, where


def test_every_finding_belongs_to_a_station_and_a_command_that_exists() -> None:
    for name in WHOLE:
        commands = {*work_of(name).answers.commands, ""}
        for finding in findings_of(name):
            assert finding.station in STATIONS, finding
            assert finding.command in commands, finding


@pytest.mark.parametrize("name", WHOLE)
def test_the_gravest_come_first_then_brakes_then_the_run_from_the_battery(name: str) -> None:
    order = [
        (
            finding.severity.rank,
            ("BRAK", "AWAY", finding.rule[:4]).index(finding.rule[:4]),
            STATIONS.index(finding.station),
        )
        for finding in findings_of(name)
    ]

    assert order == sorted(order)


@pytest.mark.parametrize("name", WHOLE)
def test_one_thing_is_told_once(name: str) -> None:
    """No two findings of a rule at one place, and no rule that floods the page."""
    findings = findings_of(name)
    places = Counter((f.rule, f.where, f.station) for f in findings)

    assert max(places.values()) == 1
    assert max(Counter(f.says for f in findings).values()) == 1
    assert max(Counter(f.rule for f in findings).values()) <= 3


@pytest.mark.parametrize("name", WHOLE)
def test_all_rules_together_take_less_than_a_fifth_of_a_second(name: str) -> None:
    work = work_of(name)
    check(work)
    taken = []
    for _ in range(3):
        start = process_time()
        check(work)
        taken.append(process_time() - start)

    assert min(taken) < 0.2


def test_the_short_way_pairs_and_solves_by_itself() -> None:
    steps: list[tuple[int, int]] = []

    found = check_rig(simple_rig(), lambda done, of: steps.append((done, of)))

    assert found == findings_of("simple")
    assert steps[-1][0] == steps[-1][1]


def test_a_sound_rig_has_nothing_to_mend_but_its_lamps() -> None:
    """The utility trailer lists no plate lamp and no rear side markers, and is sound otherwise."""
    to_mend = {f.rule for f in findings_of("simple") if f.severity.to_mend}

    assert to_mend == {"LAWS01"}


def test_severity_ranks_danger_first() -> None:
    assert sorted(Severity, key=lambda each: each.rank)[0] is Severity.DANGER
    assert not Severity.NOTE.to_mend
