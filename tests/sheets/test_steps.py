"""The steps: chosen by what the rig has, with the figures of the rig and of their sources."""

import pytest
from tests.rigs import brake_rig, simple_rig, van_rig
from tests.sheets.jobs import job

from loomwright import examples
from loomwright.reference.cautions import caution_tasks, cautions
from loomwright.reference.sources import cited, sources
from loomwright.sheets.facts import facts_of
from loomwright.sheets.steps import all_steps, figures_of, steps, steps_for

PHASES = (
    "Before you touch anything",
    "Prove the wires",
    "The hole",
    "The lead",
    "Feeds from the front",
    "The converter",
    "The ground",
    "The joints",
    "The socket",
    "The trailer",
    "Power on and test",
    "Hand over",
)


def keys(name: str) -> list[str]:
    return [step.key for step in steps_for(job(name)[0].rig)]


def test_each_step_has_its_own_key_a_known_source_and_known_cautions() -> None:
    known = {row.key for row in sources()}
    able = {row.key for row in cautions()}

    assert len({step.key for step in all_steps()}) == len(all_steps())
    for step in all_steps():
        assert {key for key, _ in cited(step.source)} <= known, step.key
        assert set(step.cautions) <= able, step.key
        assert step.phase in PHASES, step.key


def test_the_phases_follow_the_order_of_the_work() -> None:
    order = [PHASES.index(step.phase) for step in all_steps()]

    assert order == sorted(order)


@pytest.mark.parametrize("name", examples.names())
def test_every_step_reads_whole_in_the_units_of_the_rig(name: str) -> None:
    rig = job(name)[0].rig
    says = [step.says.format_map(figures_of(rig)) for step in steps_for(rig)]

    for said in says:
        assert "{" not in said
        assert "  " not in said
        assert said.rstrip().endswith((".", "tick.", "battery."))
        if rig.units.value == "metric":
            assert "\u00a0in" not in said, said
        else:
            assert "\u00a0mm" not in said, said


def test_a_hole_brings_deburring_zinc_grommet_and_the_caution_before_the_drill() -> None:
    """Drill, deburr, zinc, paint, grommet, seal: common practice of the trade."""
    found = keys("second-socket-flatbed")

    assert found.index("look-behind") < found.index("drill") < found.index("deburr")
    assert found.index("deburr") < found.index("grommet")
    first = next(step for step in all_steps() if step.key == "look-behind")
    assert "drill" in first.cautions
    assert "drill" not in keys("boat-surge-brakes")


def test_the_ground_is_joined_first_and_the_supply_last() -> None:
    order = figures_of(job("second-socket-flatbed")[0].rig)["order"].split(", ")

    assert order[0] == "ground"
    assert order[-1] == "battery"


def test_the_fuse_stays_out_until_every_joint_is_made() -> None:
    found = keys("horse-trailer-van")

    assert found.index("feed-fuse") < found.index("one-by-one") < found.index("fuses-in")


def test_each_kind_of_job_has_its_own_steps() -> None:
    assert {"both", "stagger", "ground-old"} <= set(keys("second-socket-flatbed"))
    assert {"conv-inputs", "conv-test", "controller-pedal"} <= set(keys("horse-trailer-van"))
    assert {"returns-apart", "monitored"} <= set(keys("caravan-thirteen-pin"))
    assert {"conv-mark"} <= set(keys("truck-24-to-12"))
    assert {"strip-out", "box", "lamp-joints", "insulation"} <= set(keys("utility-rewire"))
    assert {"lockout"} <= set(keys("boat-surge-brakes"))
    assert not {"drill", "one-by-one", "conv-place"} & set(keys("utility-rewire"))


def test_each_caution_is_printed_once_at_the_first_step_that_needs_it() -> None:
    for name in examples.names():
        shown = steps(job(name)[0].rig)["phases"]
        assert isinstance(shown, list)
        said = [says for phase in shown for step in phase["steps"] for says in step["cautions"]]

        assert said
        assert len(said) == len(set(said))


def test_crimps_are_pulled_as_ul_486a_asks() -> None:
    """UL 486A, commercial column: 16 AWG 30 lbf, 14 AWG 50 lbf, 12 AWG 70 lbf; 1 lbf is 4.448 N."""
    rows = steps(job("horse-trailer-van")[0].rig)["pulls"]
    assert isinstance(rows, list)
    pulls = {row["size"]: row["pull"] for row in rows}

    assert pulls["16\u00a0AWG"] == "30\u00a0lbf (133\u00a0N)"
    assert pulls["14\u00a0AWG"] == "50\u00a0lbf (222\u00a0N)"
    assert pulls["12\u00a0AWG"] == "70\u00a0lbf (311\u00a0N)"


def test_facts_tell_the_small_rigs_apart() -> None:
    assert "trailer-only" in facts_of(simple_rig())
    assert {"brakes", "charge", "controller"} <= facts_of(brake_rig())
    assert {"converter", "combine", "powered", "scratch"} <= facts_of(van_rig())
    assert "hybrid" in caution_tasks()
