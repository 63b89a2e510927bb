"""Brakes, LEDs, batteries and other loads against charts, rules and worked examples."""

from __future__ import annotations

import pytest

from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.batteries import (
    chemistries,
    chemistry,
    emf_v,
    supply_resistance_ohm,
    supply_v,
)
from loomwright.reference.brakes import (
    brake_fact,
    breakaway_minutes,
    least_brake_wire,
    least_brake_wire_size,
    magnet,
    magnets,
)
from loomwright.reference.conductors import resistance_ohm_per_m
from loomwright.reference.leds import led, led_currents, led_form, led_forms
from loomwright.reference.loads import (
    charger_input_a,
    circuit_rating,
    converter_rating,
    lamp_estimate,
    load,
    loads,
    socket_limit,
    socket_limits,
    winch_current_a,
)

FT = 0.3048


@pytest.mark.parametrize(
    ("size_in", "count", "volts", "chart_a"),
    [
        (7, 2, 12, 6.3),
        (7, 2, 13, 6.8),
        (7, 4, 12, 12.6),
        (7, 4, 13, 13.7),
        (7, 6, 12, 19.0),
        (10, 2, 12, 7.5),
        (10, 2, 10.5, 6.6),
        (10, 4, 13, 16.3),
        (12, 4, 12, 15.0),
        (12, 6, 12, 22.6),
        (12, 6, 13, 24.5),
    ],
)
def test_the_magnet_chart_is_volts_over_ohms(
    size_in: float, count: int, volts: float, chart_a: float
) -> None:
    """Brake magnet test figures by volts and number of magnets, typed again."""
    assert count * volts / magnet(size_in).resistance_20_ohm == pytest.approx(chart_a, abs=0.13)


def test_a_warm_magnet_draws_what_the_manuals_say() -> None:
    """3.2 ohm at 20 °C are 4.2 ohm at 100 °C: 12 V give 2.86 A, manuals say 3 A."""
    warm = magnet(10)

    assert warm.resistance_ohm(100) == pytest.approx(4.2, abs=0.01)
    assert 12 / warm.resistance_ohm(100) == pytest.approx(warm.manual_a, rel=0.05)
    for row in magnets():
        assert row.low_ohm <= row.resistance_20_ohm <= row.high_ohm
    with pytest.raises(InvalidInput, match=r"12\.25"):
        magnet(11)


@pytest.mark.parametrize(
    ("count", "feet", "gauge"),
    [(2, 30, "12"), (4, 30, "12"), (4, 50, "10"), (6, 30, "10"), (6, 50, "8")],
)
def test_least_brake_wire(count: int, feet: float, gauge: str) -> None:
    """Recommended minimum hookup wire by number of brakes, typed again.

    At 3 A per magnet it allows a loop drop of 0.57 to 1.20 V.
    """
    size = least_brake_wire_size(count, feet * FT)

    assert size == WireSize("awg", gauge)
    drop_v = 2 * feet * FT * resistance_ohm_per_m(size) * 3 * count
    assert 0.56 < drop_v < 1.23


def test_brake_wire_beyond_the_table_is_not_made_up() -> None:
    assert least_brake_wire(2, 31 * FT) is not None
    assert least_brake_wire(8, 5.0) is None
    assert least_brake_wire(2, 20.0) is None


def test_eight_brakes_on_thin_wire() -> None:
    """Eight 12 in brakes at 3 A each: 13.2 V at the plug, 10.2 V at the magnets, 14 AWG harness.

    A loop of 0.125 ohm, 24.8 ft of 14 AWG each way (solid figure of ASTM B258). Measured case.
    """
    feet = 0.125 / 2 / (resistance_ohm_per_m(WireSize("awg", "14")) * FT)

    assert pytest.approx(0.125) == (13.2 - 10.2) / 24
    assert feet == pytest.approx(24.8, rel=0.03)


@pytest.mark.parametrize(
    ("capacity_ah", "current_a", "minutes"),
    [(5, 7.5, 20.3), (5, 15, 8.8), (9, 15, 17.9), (12, 15, 25.2)],
)
def test_breakaway_battery_by_peukert(capacity_ah: float, current_a: float, minutes: float) -> None:
    """T = 20 h (C / 20 h / I)^1.2, worked by hand: 20 (5 / 20 / 7.5)^1.2 h = 20.3 min.

    Field reports: 20 to 25 minutes of a pulled pin flatten the battery.
    """
    assert breakaway_minutes(capacity_ah, current_a) == pytest.approx(minutes, abs=0.1)
    assert brake_fact("breakaway-hold").value == 15
    with pytest.raises(InvalidInput):
        breakaway_minutes(0, 5)


def test_leds_by_function() -> None:
    """Design points of a rear-lamp driver: 0.14, 0.24 and 0.35 A lie in the stop range.

    UN LED substitute for W5W: 30 to 185 mA when healthy (GRE-81-04).
    """
    stop = led("left_stop_turn")
    assert stop.low_a <= 0.14
    assert stop.high_a >= 0.35
    assert led("tail").usual_a < stop.usual_a
    assert (led("w5w_substitute").low_a, led("w5w_substitute").high_a) == (0.03, 0.185)
    for row in led_currents():
        assert 0 < row.low_a <= row.usual_a <= row.high_a
    with pytest.raises(InvalidInput):
        led("brake")


def test_led_forms_carry_the_parameters_of_their_law() -> None:
    """A linear driver needs 1.4 V over its string: full current from 8.4 V (application note)."""
    linear = led_form("linear")
    assert linear.threshold_v is not None
    assert linear.series_ohm is not None
    assert linear.set_a is not None
    assert linear.threshold_v + linear.series_ohm * linear.set_a == pytest.approx(8.4)
    needs = {
        "string": ("threshold_v", "series_ohm", "knee_v"),
        "linear": ("threshold_v", "series_ohm", "knee_v", "set_a", "sharpness"),
        "switch-mode": ("power_w", "off_below_v", "on_above_v", "max_a"),
    }
    for form in led_forms():
        assert all(getattr(form, name) is not None for name in needs[form.law]), form
    assert len(led_forms()) == 5


@pytest.mark.parametrize(
    ("key", "current_a"), [("string-3", 0.30), ("string-4", 0.30), ("string-white", 0.061)]
)
def test_led_strings_draw_what_they_were_built_for(key: str, current_a: float) -> None:
    """(12.8 V - threshold) / resistance, far above the knee."""
    form = led_form(key)

    assert form.threshold_v is not None
    assert form.series_ohm is not None
    assert (12.8 - form.threshold_v) / form.series_ohm == pytest.approx(current_a, rel=0.01)


@pytest.mark.parametrize(
    ("percent", "volts"), [(100, 12.65), (75, 12.45), (50, 12.24), (25, 12.06), (0, 11.89)]
)
def test_lead_acid_at_rest(percent: float, volts: float) -> None:
    """Table credited to BCI, 26.7 °C, typed again."""
    assert emf_v("flooded", percent / 100) == pytest.approx(volts)


def test_lithium_stays_flat() -> None:
    """70 to 80 % of the capacity lies between 12.9 and 13.3 V at rest (LiFePO4 article)."""
    shares = [step / 100 for step in range(101)]
    flat = [share for share in shares if 12.9 <= emf_v("lifepo4", share) <= 13.3]
    assert 0.5 <= len(flat) / len(shares) <= 0.8


@pytest.mark.parametrize("key", [row.key for row in chemistries()])
def test_a_fuller_battery_has_more_volts_and_a_larger_one_less_resistance(key: str) -> None:
    steps = [emf_v(key, step / 50) for step in range(51)]

    assert steps == sorted(steps)
    battery = chemistry(key)
    assert battery.resistance_ohm(200, charging=True) * 2 == pytest.approx(
        battery.resistance_ohm(100, charging=True)
    )
    assert battery.resistance_ohm(100, charging=True) >= battery.resistance_ohm(100, charging=False)


@pytest.mark.parametrize("nominal_v", [12, 24])
def test_supplies_stand_in_order_and_inside_the_test_standard(nominal_v: int) -> None:
    """ISO 16750-2: generator 14 V and 28 V; code C 9 to 16 V, code F 16 to 32 V."""
    keys = ("managed_low", "resting", "idle", "low", "running", "high", "managed_high")
    volts = [supply_v(key, nominal_v) for key in keys]

    assert volts == sorted(volts)
    assert supply_v("running", nominal_v) == {12: 14.0, 24: 28.0}[nominal_v]
    assert volts[-1] <= {12: 16, 24: 32}[nominal_v]
    assert 0.004 < supply_resistance_ohm(nominal_v) < 0.03


def test_winch() -> None:
    """9500 lb winch: 71 A free, 248 A at 4000 lb, 482 A at 9500 lb. Winch table, typed again."""
    assert winch_current_a("9500", 0) == 71
    assert winch_current_a("9500", 4000) == 248
    assert winch_current_a("9500", 9500) == 482
    assert 169 < winch_current_a("9500", 3000) < 248
    with pytest.raises(InvalidInput):
        winch_current_a("9500", 12_000)


def test_a_30_a_charger_takes_40_a() -> None:
    """14.4 V x 30 A / (0.9 x 12 V) = 40 A: more than a 30 A charge circuit gives."""
    assert charger_input_a(14.4, 30, 12) == pytest.approx(40)
    assert load("charger-30a").typical_a == pytest.approx(40)
    with pytest.raises(InvalidInput):
        charger_input_a(14.4, 30, 0)


def test_ratings_of_circuits_sockets_and_converters() -> None:
    """European module: stop 0.10 to 10 A, turn 0.05 to 5 A, permanent feed 15 A (2017 manual).

    Converters: 7.5 A on two-wire, 4 A on three-wire systems (wiring supplier).
    """
    stop, turn, battery = (socket_limit(f) for f in ("stop", "left_turn", "battery"))
    assert stop is not None
    assert turn is not None
    assert battery is not None
    assert (stop.min_a, stop.max_a) == (0.10, 10)
    assert (turn.min_a, turn.max_a) == (0.05, 5)
    assert (battery.min_a, battery.max_a) == (None, 15)
    assert socket_limit("brake") is None
    assert converter_rating("two-wire").stop_turn_a == 7.5
    assert converter_rating("three-wire").stop_turn_a == 4
    assert (circuit_rating("brake").fuse_high_a, circuit_rating("brake").thinnest_awg) == (30, "12")
    assert lamp_estimate("stop_turn").current_a == 2


def test_every_load_is_sane() -> None:
    for row in loads():
        assert 0 < row.low <= row.typical <= row.high, row
        assert row.typical_w == pytest.approx(row.typical_a * row.at_v)
        if row.off_below_v is not None and row.on_above_v is not None:
            assert row.off_below_v < row.on_above_v
    for limit in socket_limits():
        assert (limit.min_a or 0) < limit.max_a


@pytest.mark.parametrize(
    "look_up", [load, circuit_rating, converter_rating, lamp_estimate, chemistry]
)
def test_unknown_keys_are_refused(look_up: object) -> None:
    assert callable(look_up)
    with pytest.raises(InvalidInput):
        look_up("no such thing")
