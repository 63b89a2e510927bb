"""Observations: kept whole through plain values, and refused with every bad field at once."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loomwright.invalid import InvalidInput
from loomwright.observations.observation import Observation, Quantity, from_plain, to_plain
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word

NAMES = st.text(min_size=1, max_size=20)
PLACES = st.one_of(
    st.builds(Place, st.just(PlaceKind.LOAD), NAMES),
    st.builds(Place, st.just(PlaceKind.PIN), NAMES, NAMES),
    st.builds(Place, st.just(PlaceKind.POINTS), NAMES, other=NAMES),
    st.just(Place(PlaceKind.CONTROLLER)),
)
SEEN = st.builds(
    Observation,
    NAMES,
    PLACES,
    st.just(Quantity.SEEN),
    word=st.sampled_from(Word),
    note=st.text(max_size=20),
    plugged=st.booleans(),
)
READ = st.builds(
    Observation,
    NAMES,
    PLACES,
    st.sampled_from([Quantity.VOLTS, Quantity.AMPS, Quantity.OHMS]),
    value=st.floats(-1e6, 1e6),
    tester=NAMES,
)


@given(SEEN | READ)
def test_an_observation_comes_back_whole_from_json(observation: Observation) -> None:
    assert from_plain(json.loads(json.dumps(to_plain(observation)))) == observation


def test_every_bad_value_is_told_at_once() -> None:
    with pytest.raises(ExceptionGroup) as caught:
        from_plain({"place": {"kind": "moon", "colour": 1}, "quantity": "W", "value": "12"})

    fields = {str(each.field) for each in caught.value.exceptions if isinstance(each, InvalidInput)}
    assert fields == {
        "observation.place.colour",
        "observation.place.kind",
        "observation.quantity",
        "observation.value",
    }


@pytest.mark.parametrize(
    ("quantity", "word", "value"),
    [
        (Quantity.SEEN, None, None),
        (Quantity.SEEN, Word.DIM, 3.0),
        (Quantity.VOLTS, None, None),
        (Quantity.VOLTS, Word.DIM, 3.0),
        (Quantity.AMPS, None, float("nan")),
    ],
)
def test_a_word_or_a_number_never_both(
    quantity: Quantity, word: Word | None, value: float | None
) -> None:
    with pytest.raises(InvalidInput):
        Observation("park", Place(PlaceKind.LOAD, "plate"), quantity, word, value)


def test_a_place_names_what_it_must() -> None:
    with pytest.raises(InvalidInput, match="moulded at the pin"):
        Place(PlaceKind.PIN, "rear 7-way")
    assert str(Place(PlaceKind.PIN, "rear 7-way", "3")) == "pin 3 of rear 7-way"
