"""Numbers with units as people write them, read into small frozen values.

A closed table of spellings leads to a pint unit; pint converts. Contributed text is never
handed to pint as an expression: "Nm" would mean a textile unit there.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Generic, TypeVar

from generator.profile.units import SPELLINGS, conversion


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


def _folded(unit: str) -> str:
    """Spelling without what does not matter: case, dots, hyphens, stars and spaces."""
    unit = unit.replace("\u2126", "Ω").replace("º", "°").replace("˚", "°")
    return re.sub(r"[\s·⋅•*.\-\u2010-\u2013]+", "", unit).casefold()


def _spelt(table: dict[str, str]) -> dict[str, str]:
    return {_folded(spelling): unit for unit, words in table.items() for spelling in words.split()}


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

_NUMBER = r"[0-9]+(?:\.[0-9]+)?|[0-9]+\s+[0-9]+/[0-9]+|[0-9]+/[0-9]+"
_SIGNED = rf"[-+\u2212]?(?:{_NUMBER})"
_BETWEEN = r"to|\.\.\.?|…|[-\u2010-\u2014\u2212]|±|\+/-"
NUMBER_PATTERN, BETWEEN_PATTERN = _SIGNED, _BETWEEN
"""What a quantity's numbers look like and what may stand between two; a browser reads both too."""
_RANGE = re.compile(
    rf"""\s*(?P<low>{_SIGNED})
    (?:\s*(?P<between>{_BETWEEN})\s*(?P<high>{_SIGNED}))?
    (?![0-9.,/])\s*(?P<unit>[^0-9]*?)\s*""",
    re.VERBOSE,
)
_UNIT_TWICE = re.compile(
    rf"""\s*(?P<low>{_SIGNED})\s*(?P<unit>[^0-9]+?)\s*
    (?P<between>{_BETWEEN})\s*(?P<high>{_SIGNED})\s*(?P<again>[^0-9]+?)\s*""",
    re.VERBOSE,
)
_SQUARED = re.compile(r"mm\s?\^?2\b")
_DECIMAL_COMMA = re.compile(r"([0-9]+),([0-9]+)")
_POWER_OF_TEN = re.compile(r"[0-9][eE][-+]?[0-9]")


class NotAQuantity(ValueError):
    """Text that is not the quantity wanted: ``rule`` names the fault, ``mend`` the way out."""

    def __init__(self, rule: str, message: str, mend: str) -> None:
        super().__init__(message)
        self.rule = rule
        self.message = message
        self.mend = mend


@lru_cache(maxsize=4096)
def read_quantity(text: str, dimension: Dimension[Q]) -> Q:
    """The quantity of a dimension that a text states, converted to the dimension's base unit.

    Accepts one number or a range (``2.1 to 2.9 ohm``, ``2.1-2.9 Ω``, ``44 ± 4 N·m``), and
    fractions for lengths (``7/8 in``).

    Raises:
        NotAQuantity: wrong dimension, missing or unknown unit, reversed range, decimal comma,
            a range where one value belongs, or a number that cannot be.
    """
    number, low, high, unit = _split(text, dimension)
    to_base, offset = conversion(unit, dimension.base)
    low, high = (round(value * to_base + offset, 12) for value in (low, high))
    if low > high:
        raise NotAQuantity(
            "reversed-range",
            f"The range `{text}` runs backwards.",
            "Write the smaller number first.",
        )
    if dimension.positive and low <= 0:
        raise NotAQuantity(
            "not-positive",
            f"A {dimension.name} of `{number}` cannot be.",
            "Write a number above zero, or leave the key out if it is not known.",
        )
    if dimension.single and low != high:
        raise NotAQuantity(
            "one-value",
            f"`{text}` is a range, and one {dimension.name} belongs here.",
            f"Write one value, such as {dimension.examples}.",
        )
    if high > 1e6 or low < -273.15:
        raise NotAQuantity("out-of-reach", f"`{text}` is out of all reach.", "Mend the number.")
    return dimension.value(low, high, " ".join(text.split()))


def _split(text: str, dimension: Dimension[Q]) -> tuple[str, float, float, str]:
    """The first number as text, low and high in the unit written, and the pint unit."""
    if comma := _DECIMAL_COMMA.search(text):
        mended = _DECIMAL_COMMA.sub(r"\1.\2", text)
        raise NotAQuantity(
            "decimal-comma", f"`{comma[0]}` has a decimal comma.", f"Write a point: `{mended}`."
        )
    if _POWER_OF_TEN.search(text):
        raise NotAQuantity(
            "not-a-quantity", f"`{text}` is written as a power of ten.", "Write the number out."
        )
    match = _RANGE.fullmatch(unit_once(_SQUARED.sub("mm²", text)))
    if match is None:
        raise NotAQuantity(
            "not-a-quantity",
            f"`{text}` is not a number with a unit.",
            _mend(text, dimension),
        )
    unit = _unit(match["unit"], match["low"], dimension)
    low = _number(match["low"])
    if match["between"] in ("±", "+/-"):
        spread = _number(match["high"])
        return match["low"], low - spread, low + spread, unit
    return match["low"], low, _number(match["high"]) if match["high"] else low, unit


_LONGEST_MENDED = 100
_BESIDE = re.compile(r"\s*(?:[/(;=,]|\bor\b)\s*")
_WITH_TEMPERATURE = re.compile(r"(.*?)\s*[,(]?\s*(?:@|\bat\b)\s*([^()]*?)\)?")


def _mend(text: str, dimension: Dimension[Any]) -> str:
    """What leads from a text that is no quantity to one, without a value that it does not hold."""
    if dimension is RESISTANCE and (both := resistance_and_temperature(text)):
        return f"Write `{both[0]}` alone; the temperature, `{both[1]}`, has a key of its own."
    for mark in _BESIDE.finditer(text):
        two = text[: mark.start()].strip(), text[mark.end() :].strip().removesuffix(")")
        if all(_states(each, dimension) for each in two):
            return f"Write one of the two: `{two[0]}` or `{two[1]}`."
    return f"A {dimension.name} is wanted, such as {dimension.examples}."


def resistance_and_temperature(text: str) -> tuple[str, str] | None:
    """The two of ``4-5 ohms @ 20C``, each as it is written at its own key; None for other text."""
    text = text.strip()
    found = _WITH_TEMPERATURE.fullmatch(text) if len(text) <= _LONGEST_MENDED else None
    if found and _states(found[1], RESISTANCE) and _states(found[2], TEMPERATURE):
        return respelt(found[1], RESISTANCE), respelt(found[2], TEMPERATURE)
    return None


def _states(text: str, dimension: Dimension[Any]) -> bool:
    found = _RANGE.fullmatch(unit_once(_SQUARED.sub("mm²", text)))
    return found is not None and _folded(found["unit"]) in dimension.spellings


def unit_once(text: str) -> str:
    """``2.1 ohm to 2.9 ohm`` as ``2.1 to 2.9 ohm``, where both units are spelt alike."""
    twice = _UNIT_TWICE.fullmatch(text)
    if twice and _folded(twice["unit"]) == _folded(twice["again"]):
        return f"{twice['low']} {twice['between']} {twice['high']} {twice['unit']}"
    return text


def respelt(text: str, dimension: Dimension[Q]) -> str:
    """A quantity's text with its unit as ``units`` spells it, and a space before it.

    The numbers and what stands between them stay; so does a text that states no such quantity.
    """
    squared = _SQUARED.sub("mm²", text)
    found = _UNIT_TWICE.fullmatch(squared) or _RANGE.fullmatch(squared)
    if found is None or not found["unit"]:
        return text
    for group in ("again", "unit"):
        written = found.groupdict().get(group)
        unit = dimension.spellings.get(_folded(written or ""))
        if unit and written != SPELLINGS[unit]:
            start, end = found.span(group)
            squared = f"{squared[:start].rstrip()} {SPELLINGS[unit]}{squared[end:]}"
    return squared


_SURE_COMMA = re.compile(
    r"(?<![0-9.,])(?:(?P<zero>0),(?P<any>[0-9]+)|(?P<whole>[0-9]+),(?P<part>[0-9]{1,2}|[0-9]{4,}))"
    r"(?![0-9.,])"
)


def with_points(text: str) -> str:
    """A text with its decimal commas as points, where none of them can be a mark of thousands."""
    mended = _SURE_COMMA.sub(
        lambda found: f"{found['zero'] or found['whole']}.{found['any'] or found['part']}", text
    )
    return text if _DECIMAL_COMMA.search(mended) else mended


def _number(text: str) -> float:
    text = text.replace("\u2212", "-")
    whole, _, fraction = text.rpartition(" ")
    if "/" not in fraction:
        return float(text)
    above, below = fraction.split("/")
    if not int(below):
        raise NotAQuantity("not-a-quantity", f"`{text}` divides by zero.", "Mend the fraction.")
    return float(whole or 0) + int(above) / int(below)


def _unit(written: str, number: str, dimension: Dimension[Q]) -> str:
    if not written and dimension.assumed:
        return dimension.assumed
    if not written:
        raise NotAQuantity(
            "missing-unit",
            f"`{number}` has no unit.",
            f"A {dimension.name} is wanted, such as {dimension.examples}.",
        )
    folded = _folded(written)
    if unit := dimension.spellings.get(folded):
        return unit
    for other in DIMENSIONS:
        if folded in other.spellings:
            raise NotAQuantity(
                "wrong-dimension",
                f"`{written}` is a unit of {other.name}.",
                f"A {dimension.name} is wanted, such as {dimension.examples}.",
            )
    raise NotAQuantity(
        "unknown-unit",
        f"`{written}` is not a unit known here.",
        f"A {dimension.name} is wanted, such as {dimension.examples}.",
    )
