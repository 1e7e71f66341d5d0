"""The units a profile may be written in: how each is spelt here, and its way to the base unit."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import pint

SPELLINGS: Final = {
    "newton * meter": "N·m",
    "force_pound * foot": "lbf·ft",
    "force_pound * inch": "lbf·in",
    "kilogram_force * meter": "kgf·m",
    "kilogram_force * centimeter": "kgf·cm",
    "ohm": "ohm",
    "kiloohm": "kohm",
    "degree_Celsius": "°C",
    "degree_Fahrenheit": "°F",
    "millimeter": "mm",
    "centimeter": "cm",
    "meter": "m",
    "inch": "in",
    "ampere": "A",
    "milliampere": "mA",
    "minute": "min",
    "hour": "h",
    "second": "s",
    "millimeter ** 2": "mm²",
}
"""Every unit by its name in the library pint, and the spelling that ``check --fix`` writes."""


@cache
def conversion(unit: str, base: str) -> tuple[float, float]:
    """Factor and offset that lead from a unit to a base unit, by their names in pint.

    A base unit needs no library: importing pint and making its registry takes half a second, longer
    than checking a profile.
    """
    if unit == base:
        return 1.0, 0.0
    at_zero = float(_registry().Quantity(0.0, unit).to(base).magnitude)
    at_one = float(_registry().Quantity(1.0, unit).to(base).magnitude)
    return at_one - at_zero, at_zero


@cache
def _registry() -> pint.UnitRegistry[float]:
    import pint

    return pint.UnitRegistry(cache_folder=None)
