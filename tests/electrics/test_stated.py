"""Values of parts that no job file describes come from the table of stated defaults."""

import pytest

from loomwright.electrics.stated import stated_a, stated_c, stated_ohm, stated_share, stated_v
from loomwright.invalid import InvalidInput


def test_a_compressor_stops_and_starts_at_the_inputs_its_manuals_print() -> None:
    """10.4 V and 11.7 V for 12 V systems. Source: manuals of compressor refrigerators."""
    assert stated_v("appliance.off_below_v") == 10.4
    assert stated_v("appliance.on_above_v") == 11.7


def test_a_load_that_stops_starts_again_only_higher() -> None:
    for load in ("charger", "appliance"):
        assert stated_v(f"{load}.off_below_v") < stated_v(f"{load}.on_above_v")


def test_texts_are_read_as_quantities() -> None:
    assert 0 < stated_ohm("converter.step_down.resistance_ohm") < 0.1
    assert 12 < stated_v("converter.step_down.off_below_v") < 24
    assert 0 < stated_share("load.on_above") < 1
    assert 0 < stated_a("battery.on_above_a") < 1
    assert stated_c("temperature.wire.nominal") == 20


def test_what_is_not_stated_is_refused() -> None:
    with pytest.raises(InvalidInput, match="none is stated"):
        stated_v("vehicle.wheels")
