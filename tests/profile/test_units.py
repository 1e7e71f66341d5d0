"""The spellings of units, and their ways to the base units by the published conversion factors."""

from __future__ import annotations

import pint
import pytest

from generator.profile.dimension import DIMENSIONS
from generator.profile.quantity import read_quantity, respelt
from generator.profile.units import SPELLINGS, conversion

USED = [
    (dimension, unit)
    for dimension in DIMENSIONS
    for unit in dict.fromkeys(dimension.spellings.values())
]
# NIST SP 811 (2008), appendix B.8: to newton metre, millimetre and degree Celsius
PUBLISHED = [
    ("force_pound * foot", "newton * meter", 1.355818),
    ("force_pound * inch", "newton * meter", 1.129848e-1),
    ("kilogram_force * meter", "newton * meter", 9.80665),
    ("inch", "millimeter", 25.4),
]


def test_every_unit_is_one_of_a_dimension() -> None:
    assert [unit for _, unit in USED] == list(SPELLINGS)


@pytest.mark.parametrize(("unit", "base", "factor"), PUBLISHED)
def test_a_unit_leads_to_the_base_unit_by_the_published_factor(
    unit: str, base: str, factor: float
) -> None:
    assert conversion(unit, base) == (pytest.approx(factor, rel=5e-7), 0.0)


def test_fahrenheit_has_its_offset() -> None:
    # NIST SP 811 (2008), appendix B.8: t/°C = (t/°F - 32)/1.8
    factor, offset = conversion("degree_Fahrenheit", "degree_Celsius")
    assert 212 * factor + offset == pytest.approx(100.0)
    assert 32 * factor + offset == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(("dimension", "unit"), USED, ids=[unit for _, unit in USED])
def test_a_unit_is_read_in_the_spelling_it_is_given(dimension: object, unit: str) -> None:
    text = f"20 {SPELLINGS[unit]}"
    assert respelt(text, dimension) == text  # type: ignore[arg-type, type-var]
    read_quantity(text, dimension)  # type: ignore[arg-type, type-var]


@pytest.mark.parametrize(("dimension", "unit"), USED, ids=[unit for _, unit in USED])
def test_every_spelling_becomes_that_one(dimension: object, unit: str) -> None:
    spellings = [
        spelling
        for spelling, name in dimension.spellings.items()  # type: ignore[attr-defined]
        if name == unit
    ]
    assert spellings
    for spelling in spellings:
        wanted = f"20 {SPELLINGS[unit]}"
        assert respelt(f"20 {spelling}", dimension) == wanted  # type: ignore[arg-type, type-var]


def test_every_unit_is_the_one_that_pint_knows_by_that_name() -> None:
    known: pint.UnitRegistry[float] = pint.UnitRegistry(cache_folder=None)
    for dimension, unit in USED:
        factor, offset = conversion(unit, dimension.base)  # type: ignore[attr-defined]
        for number in (0.0, 1.0, 37.0):
            expected = known.Quantity(number, unit).to(dimension.base)  # type: ignore[attr-defined]
            assert number * factor + offset == pytest.approx(
                expected.magnitude, rel=1e-12, abs=1e-9
            )
