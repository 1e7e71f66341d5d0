"""Sizes across flats by thread."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.hex_sizes import (
    SERIES,
    TOLERANCE_MM,
    HexSeries,
    diameters_for,
    matching_sizes,
    typical_sizes,
)
from generator.trade.threads import PITCHES_MM


def test_every_series_says_where_it_is_from() -> None:
    assert len({series.name for series in SERIES}) == len(SERIES)
    for series in SERIES:
        assert series.source
        assert list(series.sizes_mm) == sorted(set(series.sizes_mm))


@pytest.mark.parametrize("series", SERIES, ids=lambda series: series.name)
def test_a_head_is_wider_than_its_thread_and_a_key_narrower(series: HexSeries) -> None:
    for diameter_mm, across_flats_mm in series.sizes_mm:
        assert diameter_mm in PITCHES_MM
        assert (across_flats_mm < diameter_mm) == series.internal


@given(st.sampled_from(sorted(PITCHES_MM)), st.floats(1, 60))
def test_a_size_matches_where_it_is_near_a_typical_one(
    diameter_mm: float, across_flats_mm: float
) -> None:
    near = [
        size
        for size in typical_sizes(diameter_mm)
        if abs(size.across_flats_mm - across_flats_mm) <= TOLERANCE_MM
    ]
    assert list(matching_sizes(diameter_mm, across_flats_mm)) == near
    assert (diameter_mm in diameters_for(across_flats_mm)) == bool(near)


@pytest.mark.parametrize(
    ("diameter_mm", "across_flats_mm", "names"),
    [
        (8, 13, ["ISO", "DIN"]),
        (8, 12, ["JIS"]),
        (10, 14, ["JIS"]),
        (10, 9 / 16 * 25.4, ["JIS"]),
        (8, 6, ["socket head"]),
        (14, 19, ["wheel"]),
        (8, 17, []),
        (13, 19, []),
    ],
)
def test_which_series_a_size_belongs_to(
    diameter_mm: float, across_flats_mm: float, names: list[str]
) -> None:
    assert [size.series.name for size in matching_sizes(diameter_mm, across_flats_mm)] == names


def test_an_unknown_diameter_has_no_typical_size() -> None:
    assert typical_sizes(13) == ()
