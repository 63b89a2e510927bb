"""Lights: published points, pulses, words."""

import math
from dataclasses import replace

import pytest
from tests.electrics.gallery import led_rig, pulsed_rig
from tests.electrics.ideal import only, solved
from tests.rigs import MAJOR, MINOR

from loomwright.circuit import Load, Pulsed
from loomwright.electrics.cases import case_for
from loomwright.electrics.commands import find_command
from loomwright.electrics.lights import law_of, pulsed_law, share_of_light, word_for
from loomwright.electrics.wiring import wire_up
from loomwright.rig.model import Bulb, Led

STRING, LINEAR = Led("string-3", 0.30, 12.8), Led("linear", 0.25, 12.8)
MULTIVOLT = Led("switch-mode", 3.0 / 12.8, 12.8)


@pytest.mark.parametrize(
    ("bulb", "system_v", "volts", "amps"),
    [
        (MAJOR, 12.0, 12.8, 2.10),
        (MINOR, 12.0, 14.0, 0.59),
        (Bulb("194", "single"), 12.0, 14.0, 0.27),
        (Bulb("P21/5W", "major"), 12.0, 13.5, 25.0 / 13.5),
        (Bulb("P21/5W", "minor"), 12.0, 13.5, 6.0 / 13.5),
        (Bulb("P21/5W", "major"), 24.0, 28.0, 1.0),
        (Bulb("P21/5W", "minor"), 24.0, 28.0, 10.0 / 28.0),
    ],
)
def test_a_filament_takes_its_published_current(
    bulb: Bulb, system_v: float, volts: float, amps: float
) -> None:
    """SAE J573 for trade numbers; Directive 97/24/EC appendix 15 for P21/5W, 12 V and 24 V."""
    assert law_of(bulb, system_v).current_a(volts) == pytest.approx(amps, rel=1e-3)


@pytest.mark.parametrize("led", [STRING, LINEAR, Led("string-white", 0.06, 12.8)])
def test_an_led_lamp_takes_its_rated_current(led: Led) -> None:
    """The form's own law is scaled to the rating; the regulator's limit is within 1 % there."""
    assert law_of(led, 12.0).current_a(12.8) == pytest.approx(led.current_a, rel=0.01)


def test_a_stop_bulb_pulsed_as_tail_lamp() -> None:
    """21 W at 13.5 V with 22 % duty: 6.33 V rms, 2.69 A in the pulse, 0.59 A mean, 1.26 A rms.

    Derived from the filament law; the duty is that of a car that drives its 21 W bulbs so.
    """
    bulb = Bulb("P21W", "single")
    pulse_a = pulsed_law(bulb, 12.0, 0.22).current_a(13.5)

    assert pulse_a == pytest.approx(2.69, abs=0.01)
    assert 0.22 * pulse_a == pytest.approx(0.59, abs=0.01)
    assert math.sqrt(0.22) * pulse_a == pytest.approx(1.26, abs=0.01)
    rms_share = share_of_light(bulb, 12.0, 13.5, 0.22)
    assert rms_share == pytest.approx((6.33 / 13.5) ** 3.4, rel=0.01)


def test_a_pulsed_feed_shows_its_mean_on_a_meter() -> None:
    """13.5 V with 22 % duty reads 2.97 V, by the arithmetic of a mean."""
    wiring = wire_up(pulsed_rig())

    reading = solved(wiring, "park", only(wiring))
    emf_v = wiring.conditions.emf_v
    tail = reading.load("left rear tail")
    pin = next(each for each in reading.pins if each.function == "tail")

    assert tail.voltage_v == pytest.approx(0.22 * emf_v, rel=0.01)
    assert pin.to_return_v == pytest.approx(0.22 * emf_v, rel=0.01)
    assert tail.light_share == pytest.approx((math.sqrt(0.22) * emf_v / 14.0) ** 3.4, rel=0.03)


def test_only_the_loads_of_a_pulsed_feed_see_its_pulses() -> None:
    wiring = wire_up(pulsed_rig())
    case = case_for(wiring, find_command("park+brake pedal"))

    pulsed = {name for name, law in case.law.items() if isinstance(law, Pulsed)}

    functions = {wiring.parts[name].function for name in pulsed}
    assert functions == {"tail"}
    assert "lamp_plate_tail" in pulsed
    assert isinstance(wiring.network.element("lamp_plate_tail"), Load)


def test_pulses_end_with_the_command() -> None:
    """Current that comes backwards through a feed that is off is steady."""
    wiring = wire_up(pulsed_rig())

    assert case_for(wiring, find_command("left")).law == {}


@pytest.mark.parametrize(
    ("volts", "word"),
    [(0.0, "off"), (2.0, "off"), (4.0, "glow"), (6.0, "glow"), (9.0, "dim"), (12.8, "normal")],
)
def test_words_for_a_stop_lamp(volts: float, word: str) -> None:
    """A filament gives no useful light below a fifth of its voltage. Source: lamp rerating."""
    assert word_for(share_of_light(MAJOR, 12.0, volts, 1.0), MAJOR) == word


def test_words_for_too_much() -> None:
    assert word_for(share_of_light(MAJOR, 12.0, 14.8, 1.0), MAJOR) == "bright"


def test_an_led_shows_what_a_filament_ignores() -> None:
    """A tenth of a milliampere lights an LED in the dark; from memory."""
    assert word_for(0.0001 / 0.3, STRING) == "glow"
    assert word_for(0.0001 / 2.1, MAJOR) == "off"


def test_light_of_an_led_goes_with_its_current() -> None:
    assert share_of_light(STRING, 12.0, 12.8, 1.0) == pytest.approx(1.0, rel=0.01)
    assert share_of_light(LINEAR, 12.0, 9.5, 1.0) == pytest.approx(1.0, rel=0.05)
    assert share_of_light(STRING, 12.0, 5.0, 1.0) < 1e-3
    assert share_of_light(MULTIVOLT, 12.0, 9.0, 1.0) == 1.0
    assert share_of_light(MULTIVOLT, 12.0, 6.0, 1.0) == 0.0


def test_leds_do_not_light_backwards() -> None:
    """With its ground open a trailer of LEDs alone has no way home but the diodes' leakage.

    What is left is less than 1 % of the light. One filament among them is a way home, and then
    an LED lights: a known hybrid of the trade.
    """
    rig = led_rig()
    leds_only = replace(rig, trailer=replace(rig.trailer, lamps=rig.trailer.lamps[:1]))

    for command in ("park", "left", "brake pedal"):
        wiring = wire_up(leds_only)
        fault = only(wiring, contact_1_ground=math.inf, hitch=math.inf)
        lamps = [each for each in solved(wiring, command, fault).loads if each.kind == "lamp"]
        assert max(load.light_share or 0.0 for load in lamps) < 0.01

    wiring = wire_up(rig)
    fault = only(wiring, contact_1_ground=math.inf, hitch=math.inf)
    assert solved(wiring, "left", fault).load("rear left stop turn").word == "normal"
