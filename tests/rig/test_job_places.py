"""Where a part of the rig stands in its job file: every path can be written, and tells."""

import pytest
from tests.solved_examples import EXAMPLES, text_of

from loomwright.electrics.wiring import wire_up
from loomwright.rig.edit import write_value
from loomwright.rig.job_places import job_path, values_for
from loomwright.rig.read import read_job, read_rig

WRITTEN = {"size": "6 AWG", "length": "3.21 m", "joint": "sealed-butt", "fuse": "5 A"}


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_is_written_at_a_path_is_what_the_part_becomes(name: str) -> None:
    text, job = text_of(name), read_job(text_of(name))
    parts = wire_up(read_rig(text)).parts
    tried: set[str] = set()
    for element, part in parts.items():
        for value in values_for(part.ref, part.kind, job):
            if value.subject not in ("size", "joint") or value.path in tried:
                continue
            tried.add(value.path)
            after = wire_up(read_rig(write_value(text, value.path, WRITTEN[value.subject]))).parts
            said = after[element].size if value.subject == "size" else after[element].joint_kind
            fixed = part.joint_kind in ("bulb-holder", "frame-screw", "soldered", "ring-terminal")
            assert str(said) == WRITTEN[value.subject] or fixed, (element, value.path)
    assert len(tried) > 10


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_wire_but_the_frame_can_be_changed(name: str) -> None:
    job = read_job(text_of(name))
    for part in wire_up(read_rig(text_of(name))).parts.values():
        if part.kind == "wire":
            subjects = {value.subject for value in values_for(part.ref, "wire", job)}
            assert "size" in subjects, part.ref


def test_a_pair_of_lamps_has_one_table() -> None:
    job = read_job(text_of("utility-rewire"))

    left = values_for("trailer.lamp.left front marker.tail", "load", job)
    right = values_for("trailer.lamp.right front marker.tail", "load", job)
    assert left == right
    assert left[0].path == "trailer.lamp[4].lights.tail"


def test_a_name_with_a_point_or_another_name_in_it_is_still_found() -> None:
    job = read_job(
        """
        [[socket]]
        name = "no. 1"
        connector = "7-blade"
        [[socket]]
        name = "no. 1 bed"
        connector = "7-blade"
        [trailer]
        [[trailer.lamp]]
        name = "rear"
        lights = { tail = "194" }
        [[trailer.lamp]]
        name = "rear.top"
        lights = { tail = "194" }
        """
    )

    assert job_path("socket.no. 1 bed.lead.tail", job) == "socket[2].lead.tail"
    assert job_path("socket.no. 1.lead.tail", job) == "socket[1].lead.tail"
    (light, _) = values_for("trailer.lamp.rear.top.tail", "load", job)
    assert light.path == "trailer.lamp[2].lights.tail"


def test_a_part_that_the_file_says_nothing_of_has_no_value() -> None:
    job = read_job(text_of("utility-rewire"))

    assert values_for("vehicle.supply", "supply", job) == ()
    assert values_for("trailer.plug.1", "contact", job) == ()
    assert job_path("trailer.plug.1", job) is None
