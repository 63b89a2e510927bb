"""The readings on the sheet are those of the circuit, banded over its conditions."""

import pytest
from tests.sheets.jobs import job

from loomwright import examples
from loomwright.sheets.readings import meter_volts, readings


def volts(shown: str) -> float:
    return float(shown.removesuffix("\u00a0V").replace("−", "-"))


@pytest.mark.parametrize("name", examples.names())
def test_every_command_is_there_and_every_pin_is_live_or_dead(name: str) -> None:
    work, _, _ = job(name)
    shown = readings(work)["commands"]
    assert isinstance(shown, list)

    assert len(shown) == len(work.answers.commands)
    for command in shown:
        live = {row["pin"] for row in command["pins"]}
        dead = set(command["dead"].split(", ")) - {""}
        assert not live & dead


@pytest.mark.parametrize("name", examples.names())
def test_the_nominal_reading_lies_within_its_band(name: str) -> None:
    shown = readings(job(name)[0])["commands"]
    assert isinstance(shown, list)

    for command in shown:
        for row in (*command["pins"], *command["grounds"]):
            low, _, high = row["band"].partition(" to ")
            assert volts(low) <= volts(row["volts"]) <= volts(high or low)


def test_a_hand_meter_shows_hundredths_below_ten_volts_and_tenths_above() -> None:
    """A meter of 2000 counts reads 9.99 V on its 20 V range; common practice is to write 13.1 V."""
    assert meter_volts(0.2216) == "0.22\u00a0V"
    assert meter_volts(13.149) == "13.1\u00a0V"
    assert meter_volts(9.996) == "10.0\u00a0V"
    assert meter_volts(-0.4) == "−0.40\u00a0V"
    assert meter_volts(-0.0004) == "0\u00a0V"


def test_each_magnet_and_each_battery_has_a_current_to_measure() -> None:
    work, _, _ = job("horse-trailer-van")
    rows = readings(work)["currents"]
    assert isinstance(rows, list)
    names = [row["name"].lower() for row in rows]

    for brake in work.rig.trailer.brakes:
        assert brake.name.lower() in names
    assert work.rig.trailer.battery is not None
    assert work.rig.trailer.battery.name.lower() in names
