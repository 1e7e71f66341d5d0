"""Wire colour words and the volts lost along a wire."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.wiring import (
    COLOURS,
    RESISTANCE_OHM_PER_KM,
    Conductors,
    nearest_colour_code,
    supply_drop_v,
    wire_colour,
)

codes = st.sampled_from(sorted(COLOURS))
sizes = st.sampled_from(sorted(RESISTANCE_OHM_PER_KM))
amps = st.floats(0, 30)
metres = st.floats(0, 20)
celsius = st.floats(-40, 120)


def test_one_and_two_colours() -> None:
    assert wire_colour("BK") == ("black",)
    assert wire_colour("RDBU") == ("red", "blue")
    assert wire_colour("GNYE") == ("green", "yellow")
    assert wire_colour("WHBK") == ("white", "black")


@pytest.mark.parametrize(
    ("written", "nearest"),
    [
        ("bk", "BK"),
        ("R", "RD"),
        ("w", "WH"),
        ("L", "BU"),
        ("R/B", "RDBK"),
        ("rd/bu", "RDBU"),
        ("RD BU", "RDBU"),
        ("RDBL", "RDBU"),
        ("red", "RD"),
        ("red-black", "RDBK"),
        ("Gray", "GY"),
        ("BL", "BU"),
        ("RT", "RD"),
        ("balck", "BK"),
        ("white w/ red stripe", "WHRD"),
        ("RDRD", "RD"),
    ],
)
def test_an_unknown_code_is_refused_with_the_nearest(written: str, nearest: str) -> None:
    with pytest.raises(ValueError, match="no wire colour code") as refused:
        wire_colour(written)
    assert f"the nearest is {nearest} (" in str(refused.value)


@pytest.mark.parametrize(
    "written",
    ["BK or BN", "NO", "blue-ish", "light blue", "TQQ", "XX", "RDBUWH", "R/B/W", "BK 2", "?"],
)
def test_of_what_is_not_wholly_understood_no_colour_is_guessed(written: str) -> None:
    with pytest.raises(ValueError, match=r"no wire colour code of IEC 60757$"):
        wire_colour(written)


@given(st.text(max_size=12))
def test_the_nearest_code_can_be_read(text: str) -> None:
    nearest = nearest_colour_code(text)
    assert not nearest or wire_colour(nearest)


@given(codes, codes)
def test_a_code_is_nearest_to_itself(first: str, second: str) -> None:
    code = first if first == second else first + second
    assert nearest_colour_code(code) == code
    assert wire_colour(code) == tuple(COLOURS[c] for c in dict.fromkeys((first, second)))


def test_two_metres_of_half_a_square_millimetre() -> None:
    # 8 A through 2 x 2 m of 39 ohm/km
    assert supply_drop_v(8, 0.5, 2) == pytest.approx(1.248)
    assert supply_drop_v(8, 0.5, 2, conductors=Conductors.SUPPLY_ONLY) == pytest.approx(0.624)


@given(amps, sizes, metres, celsius)
def test_the_return_doubles_the_drop(current: float, size: float, length: float, c: float) -> None:
    one_way = supply_drop_v(current, size, length, c, Conductors.SUPPLY_ONLY)
    assert supply_drop_v(current, size, length, c) == pytest.approx(2 * one_way)


@given(st.floats(0.1, 30), sizes, st.floats(0.1, 20), celsius, st.floats(0.1, 40))
def test_warmer_or_longer_loses_more(
    current: float, size: float, length: float, c: float, more: float
) -> None:
    here = supply_drop_v(current, size, length, c)
    assert supply_drop_v(current, size, length, c + more) > here
    assert supply_drop_v(current, size, length + more, c) > here


def test_thicker_wire_loses_less() -> None:
    drops = [supply_drop_v(5, size, 3) for size in sorted(RESISTANCE_OHM_PER_KM)]
    assert drops == sorted(drops, reverse=True)
    assert len(set(drops)) == len(drops)


def test_a_size_outside_the_table_is_refused() -> None:
    with pytest.raises(ValueError, match=r"0\.6 mm².*0\.5, 0\.75"):
        supply_drop_v(1, 0.6, 1)


@pytest.mark.parametrize(("current", "length"), [(-1.0, 1.0), (1.0, -1.0)])
def test_negative_input_is_refused(current: float, length: float) -> None:
    with pytest.raises(ValueError, match="negative"):
        supply_drop_v(current, 1.0, length)
