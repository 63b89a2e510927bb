"""The measuring of the workbench runs, untimed: every address it asks for answers."""

from datetime import date
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from benchmarks.workbench import kinds, measured, page

from loomwright import examples, read_rig
from loomwright.changes.changeable import changeables
from loomwright.rig.read import read_job


@pytest.mark.slow
def test_every_request_that_is_measured_is_answered(tmp_path: Path) -> None:
    took = measured(3, tmp_path)
    text = page(took, date(2026, 1, 1), 3)

    assert len(took) == len(kinds(3))
    assert all(len(each.cpu_ms) == 2 for each in took)
    assert all(f"| {each.asked.what} |" in text for each in took)


def test_each_value_that_is_tried_is_one_the_demo_rig_lets_a_person_change() -> None:
    text = examples.text(examples.DEMO)
    known = changeables(read_rig(text), read_job(text), text)
    paths = {each.path for each in known}
    for kind in kinds(3):
        for address in kind.addresses if kind.has_target else ():
            assert paths >= set(parse_qs(urlsplit(address).query)["path"])


def test_each_request_is_another_change() -> None:
    for kind in kinds(41):
        if kind.has_target:
            assert len(set(kind.addresses)) == 41
