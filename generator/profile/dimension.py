"""The kinds of quantity a profile states: the value each is read into, its unit, its spellings."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar


@dataclass(frozen=True, slots=True)
class Torque:
    """A tightening torque or its range, in newton metres; ``text`` is what was written."""

    low_nm: float
    high_nm: float
    text: str


@dataclass(frozen=True, slots=True)
class Resistance:
    """A resistance or its range, in ohms."""

    low_ohm: float
    high_ohm: float
    text: str


@dataclass(frozen=True, slots=True)
class Temperature:
    """A temperature or its range, in degrees Celsius."""

    low_c: float
    high_c: float
    text: str


@dataclass(frozen=True, slots=True)
class Length:
    """A length or its range, in millimetres."""

    low_mm: float
    high_mm: float
    text: str


@dataclass(frozen=True, slots=True)
class Current:
    """A current or its range, in amperes."""

    low_a: float
    high_a: float
    text: str


@dataclass(frozen=True, slots=True)
class Duration:
    """A length of time or its range, in minutes."""

    low_min: float
    high_min: float
    text: str


@dataclass(frozen=True, slots=True)
class Area:
    """A conductor's cross-section, in square millimetres."""

    low_mm2: float
    high_mm2: float
    text: str


Q = TypeVar("Q", Torque, Resistance, Temperature, Length, Current, Duration, Area)


@dataclass(frozen=True, slots=True, eq=False)
class Dimension(Generic[Q]):
    """One kind of quantity: its name, its unit inside, its spellings and two examples.

    ``assumed`` is the unit of a bare number, where the key it stands at already names the unit.
    """

    name: str
    base: str
    value: Callable[[float, float, str], Q]
    spellings: dict[str, str]
    examples: str
    positive: bool = True
    single: bool = False
    assumed: str = ""


def folded(unit: str) -> str:
    """Spelling without what does not matter: case, dots, hyphens, stars and spaces."""
    unit = unit.replace("\u2126", "Ω").replace("º", "°").replace("˚", "°")
    return re.sub(r"[\s·⋅•*.\-\u2010-\u2013]+", "", unit).casefold()


def _spelt(table: dict[str, str]) -> dict[str, str]:
    return {folded(spelling): unit for unit, words in table.items() for spelling in words.split()}


TORQUE = Dimension(
    "torque",
    "newton * meter",
    Torque,
    _spelt(
        {
            "newton * meter": "N·m Nm newton-metre newton-metres newton-meter newton-meters",
            "force_pound * foot": "lbf·ft ft·lbf lb·ft ft·lb lbs·ft ft·lbs lbft foot-pound "
            "foot-pounds pound-foot pound-feet",
            "force_pound * inch": "lbf·in in·lbf lb·in in·lb lbs·in in·lbs inch-pound inch-pounds "
            "pound-inch pound-inches",
            "kilogram_force * meter": "kgf·m m·kgf kg·m m·kg kp·m",
            "kilogram_force * centimeter": "kgf·cm kg·cm kp·cm",
        }
    ),
    "`44 N·m` or `32 lbf·ft`",
)
RESISTANCE = Dimension(
    "resistance",
    "ohm",
    Resistance,
    _spelt({"ohm": "ohm ohms Ω", "kiloohm": "kohm kohms kΩ kiloohm"}),
    "`2.1 to 2.9 ohm`",
)
TEMPERATURE = Dimension(
    "temperature",
    "degree_Celsius",
    Temperature,
    _spelt(
        {"degree_Celsius": "°C ℃ degC C celsius", "degree_Fahrenheit": "°F ℉ degF F fahrenheit"}
    ),
    "`20 °C` or `68 °F`",
    positive=False,
    single=True,
)
LENGTH = Dimension(
    "length",
    "millimeter",
    Length,
    _spelt(
        {
            "millimeter": "mm millimetre millimetres",
            "centimeter": "cm",
            "meter": "m metre metres",
            "inch": 'in inch inches " ″',
        }
    ),
    "`22 mm` or `7/8 in`",
    single=True,
)
CURRENT = Dimension(
    "current",
    "ampere",
    Current,
    _spelt({"ampere": "A amp amps ampere amperes", "milliampere": "mA"}),
    "`15 A`",
    single=True,
)
DURATION = Dimension(
    "time",
    "minute",
    Duration,
    _spelt(
        {
            "minute": "min mins minute minutes",
            "hour": "h hour hours hr",
            "second": "s sec second seconds",
        }
    ),
    "`5 min` or `2 to 4 min`",
    assumed="minute",
)
AREA = Dimension(
    "cross-section",
    "millimeter ** 2",
    Area,
    _spelt({"millimeter ** 2": "mm² sqmm"}),
    "`0.75 mm²`",
    single=True,
)
DIMENSIONS = (TORQUE, RESISTANCE, TEMPERATURE, LENGTH, CURRENT, DURATION, AREA)
