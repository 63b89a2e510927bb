"""Real cases: how high the true cause ranks, on typical rigs, by reader and engine together.

The cases are real and were met in public; they are retold in `tests/published`. What is asked of
the ranking is far below what it reaches: a floor, not a target to be tuned to.
"""

from __future__ import annotations

import json
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from loomwright.cli import main
from loomwright.reference.fault_kinds import fault_kinds
from loomwright.trace.cases import Stands, score, share_within
from loomwright.trace.cases_rank import rank_kinds
from loomwright.trace.cases_read import Case, Seen, read_cases
from loomwright.trace.cases_words import Spot

PUBLISHED = Path(__file__).parents[1] / "published" / "trace_cases.toml"


@pytest.fixture(scope="module")
def cases() -> tuple[Case, ...]:
    return read_cases(tomllib.loads(PUBLISHED.read_text(encoding="utf-8")))


def case_of(*seen: Seen, **rig: str) -> Case:
    return Case("T", "", "", rig, seen, "", "", "", (), ())


def test_every_published_case_is_read(cases: tuple[Case, ...]) -> None:
    assert len(cases) == 20
    assert all(case.seen and case.expected for case in cases)


def test_probabilities_of_the_catalogue_sum_to_one(cases: tuple[Case, ...]) -> None:
    for case in cases:
        ranked = rank_kinds(case)
        assert sum(each.probability for each in ranked) == pytest.approx(1.0)
        assert len(ranked) == len(fault_kinds())


def test_the_order_of_observations_does_not_matter(cases: tuple[Case, ...]) -> None:
    for case in cases[:6]:
        turned = replace(case, seen=case.seen[::-1])
        straight = {each.key: each.probability for each in rank_kinds(case)}
        for each in rank_kinds(turned):
            assert each.probability == pytest.approx(straight[each.key])


def test_the_table_alone_ranks_most_true_causes_high(cases: tuple[Case, ...]) -> None:
    """Without a network: a floor of half in the first three."""
    scores = [score(case) for case in cases]

    assert share_within([each.rank for each in scores], 3) >= 0.5
    assert share_within([each.rank for each in scores], 5) >= 0.6


@pytest.mark.slow
def test_cases_on_typical_rigs_rank_the_cause_high(cases: tuple[Case, ...]) -> None:
    """Every sixth case of some with its networks: most causes among the first five."""
    stands = Stands()
    scores = [score(case, stands.of(case)) for case in cases[1:14:6]]

    assert share_within([each.rank for each in scores], 5) >= 0.6


def test_a_trailer_that_works_elsewhere_puts_the_fault_on_the_vehicle() -> None:
    """Common practice: a second vehicle is the quickest way to split vehicle from trailer."""
    dark = Seen("park", Spot("lamp", "tail"), "off")
    fine = Seen("any", Spot("lamp", "all", where="other vehicle"), "normal")
    rig = {"connector": "7-way"}

    def vehicle(*seen: Seen) -> float:
        ranked = rank_kinds(case_of(*seen, **rig))
        return sum(each.probability for each in ranked if each.place.startswith("vehicle"))

    assert vehicle(dark, fine) > max(0.65, 2.0 * vehicle(dark))


@pytest.mark.parametrize(
    ("seen", "rig", "keys"),
    [
        # common practice: lever works and pedal does not, so the pedal's signal is missing
        (
            [
                ("brake_pedal", Spot("brakes", "all"), "off"),
                ("brake_lever", Spot("brakes", "all"), "normal"),
            ],
            {"brakes": "electric"},
            {"F04", "F27", "F31", "F32"},
        ),
        # common practice: locked with nothing plugged in points at the breakaway switch
        ([("rest", Spot("brakes", "all"), "locked")], {"brakes": "electric"}, {"F82", "F30"}),
        # a converter burnt inside blows the fuse without a trailer, and smells
        (
            [("park", Spot("fuse", "tail"), "blown"), ("rest", Spot("smell"), "burnt")],
            {"trailer": "none", "vehicle": "car with converter"},
            {"F14"},
        ),
        # sides crossed at the lamps, right at the socket: the trailer
        (
            [
                ("left", Spot("lamp", "signal", "R"), "flashing"),
                ("left", Spot("lamp", "signal", "L"), "off"),
                ("left", Spot("socket", "signal", "L"), "flashing"),
            ],
            {"connector": "4-flat"},
            {"F69", "F38"},
        ),
    ],
)
def test_what_no_network_shows_is_ranked_as_well(
    seen: list[tuple[str, Spot, str]], rig: dict[str, str], keys: set[str]
) -> None:
    told = case_of(*(Seen(*each) for each in seen), **rig)

    assert {each.key for each in rank_kinds(told)[:2]} & keys


def test_contradictions_lower_belief_and_never_fail() -> None:
    lamp = Spot("lamp", "tail", "L")
    told = case_of(*(Seen("park", lamp, word) for word in ("off", "bright", "dim", "flashing")))
    ranked = rank_kinds(told)

    assert sum(each.probability for each in ranked) == pytest.approx(1.0)
    assert ranked[0].probability < 0.6


@pytest.mark.slow
def test_the_command_prints_the_score_of_a_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = PUBLISHED.read_text(encoding="utf-8")
    head, _, first = text.split("[[case]]")[:3]
    file = tmp_path / "cases.toml"
    file.write_text(f"{head}[[case]]{first}", encoding="utf-8")

    assert main(["trace", "--cases", str(file), "--json"]) == 0
    report = json.loads(capsys.readouterr().out)

    assert report["format"] == "loomwright-trace-cases/1"
    assert report["count"] == 1
    assert set(report["share"]) == {"accepted", "expected", "place"}
    (case,) = report["cases"]
    assert {"place", "form", "rank", "rank_expected", "rank_place", "ranked"} <= set(case)
    assert main(["trace", "--cases", str(file)]) == 0
    assert "true cause" in capsys.readouterr().out
