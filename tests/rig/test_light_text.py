"""Light sources as written on caps and boxes."""

import pytest
from tests.rig.reading import SMALLEST

from loomwright.invalid import InvalidInput
from loomwright.rig.light_text import BulbText, LedText, read_light_text
from loomwright.rig.model import Bulb, Led
from loomwright.rig.read import read_rig


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("1157 minor", BulbText("1157", "minor")),
        ("1157 Major", BulbText("1157", "major")),
        ("1157", BulbText("1157", None)),
        ("p21/5w minor", BulbText("P21/5W", "minor")),
        ("W5W", BulbText("W5W", None)),
        ("LED", LedText(None, None)),
        ("led 0.3 A", LedText(0.3, None)),
        ("LED 40 mA", LedText(0.04, None)),
        ("LED 0.3 A constant-current", LedText(0.3, "linear")),
        ("LED multivolt", LedText(None, "switch-mode")),
        ("LED 0.3A string-4", LedText(0.3, "string-4")),
    ],
)
def test_a_light_source_is_read(text: str, found: BulbText | LedText) -> None:
    assert read_light_text(text) == found


@pytest.mark.parametrize(
    "text", ["", "LED 3", "LED 3 W", "LED 0 A", "LED 300 A", "LED 0.3 A odd", "1157 single", "bulb"]
)
def test_what_nobody_sells_is_refused(text: str) -> None:
    with pytest.raises(InvalidInput):
        read_light_text(text)


def lights(entry: str) -> dict[str, Bulb | Led]:
    rig = read_rig(SMALLEST + f"[[trailer.lamp]]\nlights = {{ {entry} }}\n")
    return {light.function: light.source for light in rig.trailer.lamps[0].lights}


def test_a_filament_not_said_follows_the_function() -> None:
    """The minor filament is the tail lamp, the major one stops and turns: SAE J573 use of 1157."""
    found = lights('tail = "1157", left_stop_turn = "1157", reverse = "1156"')

    assert found == {
        "tail": Bulb("1157", "minor"),
        "left_stop_turn": Bulb("1157", "major"),
        "reverse": Bulb("1156", "single"),
    }


def test_an_led_not_described_takes_the_typical_current_of_its_function() -> None:
    """LED trailer lamps, from memory of catalogues: stop and turn 0.3 A, tail 0.04 A at 12.8 V."""
    found = lights('tail = "LED", left_stop_turn = "LED"')

    assert {name: led.current_a for name, led in found.items() if isinstance(led, Led)} == {
        "tail": 0.04,
        "left_stop_turn": 0.3,
    }
