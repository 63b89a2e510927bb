"""Stated defaults of parts that no job file describes, read as quantities."""

from __future__ import annotations

from functools import cache

from loomwright.quantities import (
    read_current_a,
    read_resistance_ohm,
    read_share,
    read_temperature_c,
    read_voltage_v,
)
from loomwright.reference.defaults import default


@cache
def stated_ohm(key: str) -> float:
    """Return a stated resistance. [ohm]"""
    return read_resistance_ohm(default(key).value_text, key)


@cache
def stated_v(key: str) -> float:
    """Return a stated voltage. [V]"""
    return read_voltage_v(default(key).value_text, key)


@cache
def stated_a(key: str) -> float:
    """Return a stated current. [A]"""
    return read_current_a(default(key).value_text, key)


@cache
def stated_share(key: str) -> float:
    """Return a stated share, 0 to 1 or more."""
    return read_share(default(key).value_text, key)


@cache
def stated_c(key: str) -> float:
    """Return a stated temperature. [°C]"""
    return read_temperature_c(default(key).value_text, key)
