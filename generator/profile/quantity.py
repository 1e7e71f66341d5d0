"""Numbers with units as people write them, read into the small frozen values of a dimension.

A closed table of spellings leads to a pint unit; pint converts. Contributed text is never
handed to pint as an expression: "Nm" would mean a textile unit there.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from generator.profile.dimension import DIMENSIONS, RESISTANCE, TEMPERATURE, Dimension, Q, folded
from generator.profile.units import SPELLINGS, conversion

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
    return found is not None and folded(found["unit"]) in dimension.spellings


def unit_once(text: str) -> str:
    """``2.1 ohm to 2.9 ohm`` as ``2.1 to 2.9 ohm``, where both units are spelt alike."""
    twice = _UNIT_TWICE.fullmatch(text)
    if twice and folded(twice["unit"]) == folded(twice["again"]):
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
        unit = dimension.spellings.get(folded(written or ""))
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
    spelling = folded(written)
    if unit := dimension.spellings.get(spelling):
        return unit
    for other in DIMENSIONS:
        if spelling in other.spellings:
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
