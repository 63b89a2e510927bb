"""Lights: the law of a filament or an LED lamp, how much light it gives, and in which words."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from loomwright.circuit import ConstantPower, Filament, Law, LedCurrent, LedString, Load, Pulsed
from loomwright.circuit.laws import PulseKind
from loomwright.electrics.answers import LoadKind
from loomwright.electrics.harness import Harness, Spot
from loomwright.electrics.places import LoadPlace
from loomwright.invalid import InvalidInput
from loomwright.reference.lamps import FilamentPoint, lamp, light_share
from loomwright.reference.leds import LedForm, led_form
from loomwright.reference.limits import limit
from loomwright.rig.model import Bulb, Led, Light


@dataclass(frozen=True, slots=True)
class LightAt:
    """A light's element, name and nodes, its system [V] and the feed whose pulses reach it."""

    element: str
    name: str
    kind: LoadKind
    a: str
    b: str
    nominal_v: float
    fed_by: str | None


def add_light(bench: Harness, light: Light, at: LightAt, spot: Spot) -> None:
    """Put a light source on the bench as a load."""
    source = light.source
    made: Load | ConstantPower
    if isinstance(source, Led) and led_form(source.form).law == "switch-mode":
        made = _multivolt(at, source, led_form(source.form))
    else:
        made = Load(at.element, at.a, at.b, law_of(source, at.nominal_v))
    bench.add(made, "load", at.name, spot)
    bench.loads.append(
        LoadPlace(
            at.name, at.kind, light.function, at.element, at.a, at.b, at.fed_by, source=source
        )
    )


def law_of(source: Bulb | Led, nominal_v: float) -> Law:
    """Return the steady law of a light source other than a multivolt LED."""
    if isinstance(source, Bulb):
        point = filament_point(source, nominal_v)
        return Filament(point.rated_v, point.rated_a)
    return _led_law(source)


def pulsed_law(source: Bulb | Led, nominal_v: float, duty: float) -> Law:
    """Return the law of a light source while a pulse is on: a filament heats, an LED follows."""
    kind: PulseKind = "heats" if isinstance(source, Bulb) else "follows"
    return Pulsed(law_of(source, nominal_v), duty, kind)


def share_of_light(source: Bulb | Led, nominal_v: float, voltage_v: float, duty: float) -> float:
    """Return the light as a share of that at rated voltage; `voltage_v` is while a pulse is on.

    A filament gives the light of its rms voltage; an LED's light goes with its current.
    """
    if isinstance(source, Bulb):
        rms_v = voltage_v * math.sqrt(duty)
        return light_share(rms_v, filament_point(source, nominal_v).rated_v)
    form = led_form(source.form)
    if form.law == "switch-mode":
        return duty * (1.0 if voltage_v >= (form.off_below_v or 0.0) else 0.0)
    forward_a = _led_law(source).current_a(voltage_v) - voltage_v / form.leak_ohm
    return max(duty * forward_a / source.current_a, 0.0)


def word_for(share: float, source: Bulb | Led) -> str:
    """Return what a person would say of a light: off, glow, dim, normal or bright."""
    kind = "filament" if isinstance(source, Bulb) else "led"
    for word, key in (("off", f"off-{kind}"), ("glow", "glow"), ("dim", "dim")):
        if share < _light_share(key):
            return word
    return "bright" if share > _light_share("bright") else "normal"


@cache
def _light_share(key: str) -> float:
    """Return the share of its rated light at which a lamp changes its word."""
    return limit(f"light-share-{key}").share


@cache
def filament_point(bulb: Bulb, nominal_v: float) -> FilamentPoint:
    """Return the published point of a filament, of its 12 or 24 V version where there are both."""
    try:
        row = lamp(bulb.key, round(nominal_v))
    except InvalidInput:  # made for one system only: it is in this one all the same
        row = lamp(bulb.key)
    if bulb.filament not in row.filaments:
        known = ", ".join(row.filaments)
        raise InvalidInput("filament", bulb.filament, f"the lamp {row.key} has {known}")
    return row.filaments[bulb.filament]


@cache
def _led_law(source: Led) -> Law:
    """Return the form's law with its resistance or set current such that the rating is met."""
    form = led_form(source.form)
    threshold = _stated(form.threshold_v, form.key)
    series, knee = _stated(form.series_ohm, form.key), _stated(form.knee_v, form.key)
    if form.law == "linear":
        set_a, sharpness = _stated(form.set_a, form.key), _stated(form.sharpness, form.key)
        ohm = series * set_a / source.current_a
        return LedCurrent(threshold, ohm, source.current_a, knee, sharpness, form.leak_ohm)
    usual_a = LedString(threshold, series, knee, form.leak_ohm).current_a(source.at_v)
    ohm = series * usual_a / source.current_a
    return LedString(threshold, ohm, knee, form.leak_ohm)


def _multivolt(at: LightAt, source: Led, form: LedForm) -> ConstantPower:
    power_w = source.current_a * source.at_v
    scale = power_w / _stated(form.power_w, form.key)
    return ConstantPower(
        at.element,
        at.a,
        at.b,
        power_w,
        _stated(form.off_below_v, form.key),
        _stated(form.on_above_v, form.key),
        scale * _stated(form.max_a, form.key),
        form.leak_ohm,
    )


def _stated(value: float | None, form: str) -> float:
    if value is None:
        raise ValueError(f"led_forms.csv: {form} lacks a parameter of its law")
    return value
