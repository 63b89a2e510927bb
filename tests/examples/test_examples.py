"""The loader of examples and starter files."""

import pytest

from loomwright import examples
from loomwright.invalid import InvalidInput
from loomwright.rig.read import read_rig


def test_the_demo_is_among_the_examples() -> None:
    assert examples.DEMO in examples.names()
    assert examples.text(examples.DEMO).startswith(f"#:schema ./{examples.SCHEMA_NAME}\n")


def test_the_schema_is_shipped_beside_them() -> None:
    assert examples.schema_text().startswith("{")


def test_each_kind_of_job_has_a_title_of_one_or_two_sentences() -> None:
    assert set(examples.kinds()) == set(examples.names())
    for title in examples.kinds().values():
        assert title.endswith(".")
        assert 20 < len(title) < 200


@pytest.mark.parametrize("kind", list(examples.kinds()))
def test_every_starter_makes_a_rig(kind: str) -> None:
    assert read_rig(examples.starter(kind)).sockets


@pytest.mark.parametrize("name", ["", "no-such-rig", "../examples/horse-trailer-van", "starters"])
def test_a_name_that_is_none_is_refused_with_those_there_are(name: str) -> None:
    with pytest.raises(InvalidInput, match="horse-trailer-van"):
        examples.text(name)
    with pytest.raises(InvalidInput, match="give one of"):
        examples.starter(name)
