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


_DEFINITIONS: Final = """
centi- = 1e-2
milli- = 1e-3
kilo- = 1e3
second = [time]
minute = 60 * second
hour = 60 * minute
meter = [length]
inch = 0.0254 * meter
foot = 12 * inch
kilogram = [mass]
pound = 0.45359237 * kilogram
kelvin = [temperature]; offset: 0
degree_Celsius = kelvin; offset: 273.15
degree_Fahrenheit = 5 / 9 * kelvin; offset: 233.15 + 200 / 9
ampere = [current]
newton = kilogram * meter / second ** 2
ohm = newton * meter / ampere ** 2 / second
standard_gravity = 9.80665 * meter / second ** 2
kilogram_force = kilogram * standard_gravity
force_pound = pound * standard_gravity
"""
"""The units above in pint's language; tests hold each to pint's own. To read all of pint's takes
longer than checking a profile. Factors: NIST SP 811 (2008), appendix B.
"""


@cache
def conversion(unit: str, base: str) -> tuple[float, float]:
    """Factor and offset that lead from a unit to a base unit, by their names in pint.

    A base unit needs no library, whose import takes a tenth of a second.
    """
    if unit == base:
        return 1.0, 0.0
    at_zero = float(_registry().Quantity(0.0, unit).to(base).magnitude)
    at_one = float(_registry().Quantity(1.0, unit).to(base).magnitude)
    return at_one - at_zero, at_zero


@cache
def _registry() -> pint.UnitRegistry[float]:
    import pint

    registry: pint.UnitRegistry[float] = pint.UnitRegistry(None, cache_folder=None)
    registry.load_definitions(_DEFINITIONS.splitlines())
    return registry
