"""The catalogue of kinds of fault: whole, in one vocabulary, and right where it can be checked."""

from __future__ import annotations

import pytest

from loomwright.invalid import InvalidInput
from loomwright.reference.catalogue import table
from loomwright.reference.fault_kinds import WEIGHTS, fault_forms, fault_kind, fault_kinds
from loomwright.trace.cases_words import read_command, read_spot, read_state


def test_the_catalogue_has_every_key_of_the_shared_one() -> None:
    """Keys F01 to F95 are those that files of cases use."""
    assert [kind.key for kind in fault_kinds()] == [f"F{n:02d}" for n in range(1, 96)]


def test_each_kind_says_what_is_seen_what_proves_it_and_what_mends_it() -> None:
    for kind in fault_kinds():
        assert kind.title
        assert kind.seen
        assert kind.test
        assert kind.mend
        assert kind.signs
        assert len(set(kind.circuits)) == len(kind.circuits) > 0


def test_what_is_typical_is_told_in_words_of_the_case_files() -> None:
    for kind in fault_kinds():
        for shown in kind.signs:
            at = shown.at if shown.at.endswith("side.all") else shown.at.replace(".side", ".L")
            assert read_command(shown.command) is not None, (kind.key, shown)
            assert read_spot(at) is not None, (kind.key, shown)
            assert all(read_state(word) is not None for word in shown.words), (kind.key, shown)


@pytest.mark.parametrize(
    ("key", "place", "form", "circuits"),
    [
        ("F48", "trailer.ground.main", "open", ("ground",)),
        ("F71", "trailer.brake.magnet", "short_to_ground", ("brake",)),
        ("F19", "vehicle.splice", "swapped", ("left", "right")),
    ],
)
def test_rows_typed_again_from_the_shared_catalogue(
    key: str, place: str, form: str, circuits: tuple[str, ...]
) -> None:
    """Place, form and circuits of three kinds, typed from the catalogue shared with others."""
    kind = fault_kind(key)

    assert (kind.place, kind.form, kind.circuits) == (place, form, circuits)


def test_how_usual_a_kind_is_counts_little() -> None:
    """Nobody has counted faults: an opinion may not outweigh two plain observations."""
    assert max(WEIGHTS.values()) / min(WEIGHTS.values()) < 10


def test_what_a_kind_tells_stands_in_no_other_table() -> None:
    """How usual a fault is has one home: the catalogue, or the forms beside it."""
    kinds = {(kind.place, kind.form) for kind in fault_kinds()}
    forms = [(row.place, row.form) for row in fault_forms()]

    assert not kinds & set(forms)
    assert len(set(forms)) == len(forms)


def test_an_unknown_kind_is_refused_with_the_nearest() -> None:
    with pytest.raises(InvalidInput, match="F9"):
        fault_kind("F99")


def test_the_table_is_printed_by_name() -> None:
    assert table("fault-kinds").title == "Kinds of fault"
