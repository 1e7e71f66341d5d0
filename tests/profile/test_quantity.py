"""Numbers with units: every spelling, every refusal, and values from an independent source.

The expected values are computed from ``scipy.constants`` (CODATA and the exact definitions of
the inch, the pound-force and the kilogram-force), not from the unit library the reader uses.
"""

from __future__ import annotations

import math
from dataclasses import astuple
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants  # type: ignore[import-untyped]

from generator.profile.dimension import (
    CURRENT,
    DIMENSIONS,
    DURATION,
    LENGTH,
    RESISTANCE,
    TEMPERATURE,
    TORQUE,
    Dimension,
)
from generator.profile.quantity import NotAQuantity, read_quantity

LBF_FT_NM = constants.lbf * constants.foot
LBF_IN_NM = constants.lbf * constants.inch
KGF_M_NM = constants.kgf
INCH_MM = constants.inch / constants.milli
MINUTE_S = constants.minute

# Text, dimension, low and high in the dimension's own unit
READ: list[tuple[str, Dimension[Any], float, float]] = [
    ("44 N·m", TORQUE, 44, 44),
    ("44 Nm", TORQUE, 44, 44),
    ("44Nm", TORQUE, 44, 44),
    ("44 N m", TORQUE, 44, 44),
    ("44 N-m", TORQUE, 44, 44),
    ("44 N*m", TORQUE, 44, 44),
    ("44 N.m", TORQUE, 44, 44),
    ("44 N⋅m", TORQUE, 44, 44),
    ("44 nm", TORQUE, 44, 44),
    ("44 newton-metres", TORQUE, 44, 44),
    ("32 lbf·ft", TORQUE, 32 * LBF_FT_NM, 32 * LBF_FT_NM),
    ("32 ft·lbf", TORQUE, 32 * LBF_FT_NM, 32 * LBF_FT_NM),
    ("32 ft-lb", TORQUE, 32 * LBF_FT_NM, 32 * LBF_FT_NM),
    ("32 lb-ft", TORQUE, 32 * LBF_FT_NM, 32 * LBF_FT_NM),
    ("32 lb ft", TORQUE, 32 * LBF_FT_NM, 32 * LBF_FT_NM),
    ("32 ft.-lbs.", TORQUE, 32 * LBF_FT_NM, 32 * LBF_FT_NM),
    ("32 foot-pounds", TORQUE, 32 * LBF_FT_NM, 32 * LBF_FT_NM),
    ("380 in-lb", TORQUE, 380 * LBF_IN_NM, 380 * LBF_IN_NM),
    ("380 lbf·in", TORQUE, 380 * LBF_IN_NM, 380 * LBF_IN_NM),
    ("380 inch-pounds", TORQUE, 380 * LBF_IN_NM, 380 * LBF_IN_NM),
    ("4.5 kgf·m", TORQUE, 4.5 * KGF_M_NM, 4.5 * KGF_M_NM),
    ("4.5 kg-m", TORQUE, 4.5 * KGF_M_NM, 4.5 * KGF_M_NM),
    ("450 kgf·cm", TORQUE, 4.5 * KGF_M_NM, 4.5 * KGF_M_NM),
    ("40 to 48 N·m", TORQUE, 40, 48),
    ("30 to 36 lbf·ft", TORQUE, 30 * LBF_FT_NM, 36 * LBF_FT_NM),
    ("44 ± 4 N·m", TORQUE, 40, 48),
    ("44±4 Nm", TORQUE, 40, 48),
    ("44 +/- 4 Nm", TORQUE, 40, 48),
    ("40 N·m to 48 N·m", TORQUE, 40, 48),
    ("40 N m - 48 N m", TORQUE, 40, 48),
    ("44 N·m ± 4 Nm", TORQUE, 40, 48),
    ("2.1 to 2.9 ohm", RESISTANCE, 2.1, 2.9),
    ("2.1-2.9 Ω", RESISTANCE, 2.1, 2.9),
    ("2.1 - 2.9 ohms", RESISTANCE, 2.1, 2.9),
    ("2.1–2.9 Ω", RESISTANCE, 2.1, 2.9),
    ("2.1 − 2.9 Ω", RESISTANCE, 2.1, 2.9),
    ("2.1..2.9 \u2126", RESISTANCE, 2.1, 2.9),
    ("2.1 … 2.9 Ohm", RESISTANCE, 2.1, 2.9),
    ("2.1 ohm to 2.9 ohm", RESISTANCE, 2.1, 2.9),
    ("2.1 Ω – 2.9 Ω", RESISTANCE, 2.1, 2.9),
    ("2.2\u00a0kΩ", RESISTANCE, 2200, 2200),
    ("2.2\u202fkohm", RESISTANCE, 2200, 2200),
    ("20 °C", TEMPERATURE, 20, 20),
    ("20°C", TEMPERATURE, 20, 20),
    ("20 ºC", TEMPERATURE, 20, 20),
    ("20 ℃", TEMPERATURE, 20, 20),
    ("20 degC", TEMPERATURE, 20, 20),
    ("20 deg C", TEMPERATURE, 20, 20),
    ("20 C", TEMPERATURE, 20, 20),
    ("-5 °C", TEMPERATURE, -5, -5),
    ("−5 °C", TEMPERATURE, -5, -5),
    ("+20 °C", TEMPERATURE, 20, 20),
    ("68 °F", TEMPERATURE, 20, 20),
    ("68 ℉", TEMPERATURE, 20, 20),
    ("77 degF", TEMPERATURE, *[constants.convert_temperature(77, "F", "C")] * 2),
    ("-40 F", TEMPERATURE, -40, -40),
    ("22 mm", LENGTH, 22, 22),
    ("2.2 cm", LENGTH, 22, 22),
    ("0.022 m", LENGTH, 22, 22),
    ("7/8 in", LENGTH, 7 / 8 * INCH_MM, 7 / 8 * INCH_MM),
    ('7/8"', LENGTH, 7 / 8 * INCH_MM, 7 / 8 * INCH_MM),
    ("1 1/8 in", LENGTH, 9 / 8 * INCH_MM, 9 / 8 * INCH_MM),
    ("0.875 inch", LENGTH, 7 / 8 * INCH_MM, 7 / 8 * INCH_MM),
    ("15 A", CURRENT, 15, 15),
    ("15 amps", CURRENT, 15, 15),
    ("7.5A", CURRENT, 7.5, 7.5),
    ("500 mA", CURRENT, 0.5, 0.5),
    ("2 to 4 min", DURATION, 2, 4),
    ("2 to 4", DURATION, 2, 4),
    ("5 min", DURATION, 5, 5),
    ("5", DURATION, 5, 5),
    ("90 s", DURATION, 90 / MINUTE_S, 90 / MINUTE_S),
    ("1.5 h", DURATION, 1.5 * constants.hour / MINUTE_S, 1.5 * constants.hour / MINUTE_S),
    ("1 hour to 2 hour", DURATION, 60, 120),
]


@pytest.mark.parametrize(
    ("text", "dimension", "low", "high"), READ, ids=[f"{each[1].name}-{each[0]}" for each in READ]
)
def test_spelling(
    text: str,
    dimension: Dimension[Any],
    low: float,
    high: float,
) -> None:
    read_low, read_high, said = astuple(read_quantity(text, dimension))
    assert (read_low, read_high) == (pytest.approx(low), pytest.approx(high))
    assert said == " ".join(text.split())


REFUSED: list[tuple[str, Dimension[Any], str]] = [
    ("44", TORQUE, "missing-unit"),
    ("20", TEMPERATURE, "missing-unit"),
    ("22", LENGTH, "missing-unit"),
    ("15", CURRENT, "missing-unit"),
    ("44 mm", TORQUE, "wrong-dimension"),
    ("2.5 N·m", RESISTANCE, "wrong-dimension"),
    ("5 A", DURATION, "wrong-dimension"),
    ("44 Nmm", TORQUE, "unknown-unit"),
    ("44 ft/lb", TORQUE, "unknown-unit"),
    ("2.5 MΩ", RESISTANCE, "unknown-unit"),
    ("44 N·m²", TORQUE, "unknown-unit"),
    ("44 N·m; import os", TORQUE, "unknown-unit"),
    ("44 ± 4 % Nm", TORQUE, "unknown-unit"),
    ("48 to 40 N·m", TORQUE, "reversed-range"),
    ("44 ± -4 N·m", TORQUE, "reversed-range"),
    ("44,5 N·m", TORQUE, "decimal-comma"),
    ("2,1 to 2,9 ohm", RESISTANCE, "decimal-comma"),
    ("1,000 ohm", RESISTANCE, "decimal-comma"),
    ("4.4e1 N·m", TORQUE, "not-a-quantity"),
    ("1e3 ohm", RESISTANCE, "not-a-quantity"),
    ("N·m", TORQUE, "not-a-quantity"),
    ("tight", TORQUE, "not-a-quantity"),
    ("12:30", DURATION, "not-a-quantity"),
    ("44 * 2 N·m", TORQUE, "not-a-quantity"),
    ("1.2.3 ohm", RESISTANCE, "not-a-quantity"),
    (".5 ohm", RESISTANCE, "not-a-quantity"),
    ("７/8 in", LENGTH, "not-a-quantity"),
    ("٤٤ N·m", TORQUE, "not-a-quantity"),
    ("7/0 in", LENGTH, "not-a-quantity"),
    # The second unit decides nothing about the first number
    ("2.1 ohm to 2.9 kohm", RESISTANCE, "not-a-quantity"),
    ("30 s to 2 mins", DURATION, "not-a-quantity"),
    ("40 N·m to 35 lbf·ft", TORQUE, "not-a-quantity"),
    ("0 ohm", RESISTANCE, "not-positive"),
    ("-3 N·m", TORQUE, "not-positive"),
    ("4 ± 4 N·m", TORQUE, "not-positive"),
    ("22 to 24 mm", LENGTH, "one-value"),
    ("15 to 20 A", CURRENT, "one-value"),
    ("20 to 25 °C", TEMPERATURE, "one-value"),
    ("9999999 N·m", TORQUE, "out-of-reach"),
    ("-274 °C", TEMPERATURE, "out-of-reach"),
    ("9" * 400 + " N·m", TORQUE, "out-of-reach"),
]


@pytest.mark.parametrize(
    ("text", "dimension", "rule"), REFUSED, ids=[f"{each[2]}-{each[0][:20]}" for each in REFUSED]
)
def test_refusal_names_its_rule_and_the_way_out(
    text: str,
    dimension: Dimension[Any],
    rule: str,
) -> None:
    with pytest.raises(NotAQuantity) as refused:
        read_quantity(text, dimension)
    assert refused.value.rule == rule
    assert refused.value.message.endswith(".")
    assert refused.value.mend.endswith(".")


def test_decimal_comma_is_mended_in_full() -> None:
    with pytest.raises(NotAQuantity, match="`2,10` has a decimal comma") as refused:
        read_quantity("2,10 to 12,95 ohm", RESISTANCE)
    assert refused.value.mend == "Write a point: `2.10 to 12.95 ohm`."


@pytest.mark.parametrize("dimension", DIMENSIONS, ids=lambda dimension: dimension.name)
def test_the_examples_a_refusal_gives_can_be_read(
    dimension: Dimension[Any],
) -> None:
    examples = dimension.examples.split("`")[1::2]
    assert examples
    for example in examples:
        assert read_quantity(example, dimension).text == example


def test_no_spelling_means_two_things() -> None:
    spellings = [spelling for dimension in DIMENSIONS for spelling in dimension.spellings]
    assert len(spellings) == len(set(spellings))


# A unit as one writes it, and its size in the dimension's own unit by scipy
SIZES: list[tuple[Dimension[Any], str, float]] = [
    (TORQUE, "N·m", 1.0),
    (TORQUE, "lbf·ft", LBF_FT_NM),
    (TORQUE, "in-lb", LBF_IN_NM),
    (TORQUE, "kgf·m", KGF_M_NM),
    (TORQUE, "kgf·cm", KGF_M_NM * constants.centi),
    (RESISTANCE, "ohm", 1.0),
    (RESISTANCE, "kΩ", constants.kilo),
    (DURATION, "min", 1.0),
    (DURATION, "s", 1 / MINUTE_S),
    (DURATION, "h", constants.hour / MINUTE_S),
]
HUNDREDTHS = st.integers(1, 50_000)
BETWEEN = st.sampled_from([" to ", "-", " - ", "–", " … ", "..", " — "])
BLANK = st.sampled_from(["", " ", "  ", "\u00a0", "\u202f"])


@given(unit=st.sampled_from(SIZES), ends=st.tuples(HUNDREDTHS, HUNDREDTHS), between=BETWEEN,
       blank=BLANK, twice=st.booleans(), shout=st.booleans())  # fmt: skip
@settings(max_examples=200)
def test_a_range_comes_back_as_it_was_written(
    unit: tuple[Dimension[Any], str, float],
    ends: tuple[int, int],
    between: str,
    blank: str,
    *,
    twice: bool,
    shout: bool,
) -> None:
    dimension, spelling, size = unit
    low, high = sorted(each / 100 for each in ends)
    spelling = spelling.upper() if shout else spelling
    first = f"{low:.2f}{blank}{spelling}" if twice else f"{low:.2f}"
    read_low, read_high, _ = astuple(
        read_quantity(f"{first}{between}{high:.2f}{blank}{spelling}", dimension)
    )
    # Twelve places are kept, so a hundredth of a second loses nothing that can be measured
    assert read_low == pytest.approx(low * size, rel=1e-9, abs=1e-11)
    assert read_high == pytest.approx(high * size, rel=1e-9, abs=1e-11)


@given(tenths=st.integers(-4000, 9000), scale=st.sampled_from(["C", "F"]))
@settings(max_examples=100)
def test_a_temperature_comes_back_as_it_was_written(tenths: int, scale: str) -> None:
    expected_c = constants.convert_temperature(tenths / 10, scale, "C")
    if expected_c < -constants.zero_Celsius:
        return
    read = read_quantity(f"{tenths / 10:.1f} °{scale}", TEMPERATURE)
    assert read.low_c == read.high_c == pytest.approx(expected_c, abs=1e-9)


@given(sixteenths=st.integers(1, 63))
def test_a_fraction_of_an_inch_comes_back_as_it_was_written(sixteenths: int) -> None:
    whole, rest = divmod(sixteenths, 16)
    text = f"{whole or ''} {rest}/16 in".strip() if rest else f"{whole} in"
    assert read_quantity(text, LENGTH).low_mm == pytest.approx(sixteenths / 16 * INCH_MM)


PIECES = st.sampled_from(
    ["4", "44", "2.1", "0", "7/8", "/", ",", ".", "-", " ", "to", "±", "N·m", "Nm", "ohm", "°C",
     "in", "mm", "A", "min", "e3", "{", "\u2212", "٤", "\u00b2", "(", "%s", "\n"]
)  # fmt: skip


@given(
    text=st.one_of(st.text(max_size=40), st.lists(PIECES, max_size=8).map("".join)),
    dimension=st.sampled_from(DIMENSIONS),
)
@settings(max_examples=400)
def test_any_text_is_a_quantity_or_refused(
    text: str,
    dimension: Dimension[Any],
) -> None:
    try:
        low, high, said = astuple(read_quantity(text, dimension))
    except NotAQuantity as refused:
        assert refused.message
        assert refused.mend
        return
    assert math.isfinite(low)
    assert low <= high
    assert not dimension.single or low == high
    assert not dimension.positive or low > 0
    # What is shown as the source's own words reads the same again
    assert astuple(read_quantity(said, dimension)) == (low, high, said)


@pytest.mark.parametrize(
    ("text", "dimension", "mend"),
    [
        ("tight", TORQUE, "A torque is wanted, such as `44 N·m` or `32 lbf·ft`."),
        ("max 45 Nm", TORQUE, "A torque is wanted, such as `44 N·m` or `32 lbf·ft`."),
        ("45 Nm / 33 ft lb", TORQUE, "Write one of the two: `45 Nm` or `33 ft lb`."),
        (
            "40 - 50 Nm (30-37 ft lb)",
            TORQUE,
            "Write one of the two: `40 - 50 Nm` or `30-37 ft lb`.",
        ),
        ("22 mm or 7/8 in", LENGTH, "Write one of the two: `22 mm` or `7/8 in`."),
        (
            "4-5 ohms @ 20C",
            RESISTANCE,
            "Write `4-5 ohm` alone; the temperature, `20 °C`, has a key of its own.",
        ),
    ],
)
def test_a_mend_holds_no_value_that_is_not_in_the_text(
    text: str, dimension: Dimension[Any], mend: str
) -> None:
    with pytest.raises(NotAQuantity) as refused:
        read_quantity(text, dimension)
    assert refused.value.mend == mend
