"""Readings of good sensors pooled into a range of their own."""

from __future__ import annotations

from statistics import fmean, stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.heater import Element, resistance_ratio_platinum
from generator.trade.pooled_readings import (
    FEWEST,
    GoodReading,
    corrected_ohm,
    outlier_limit,
    pooled,
    tolerance_factor,
)


def at_20(*ohms: float) -> list[GoodReading]:
    return [GoodReading(ohm, 20.0) for ohm in ohms]


EIGHT = (2.3, 2.4, 2.4, 2.5, 2.5, 2.5, 2.6, 2.7)
resistances = st.floats(1.5, 20)


def test_leads_and_temperature_are_taken_out() -> None:
    reading = GoodReading(shown_ohm=2.6, air_c=0.0, lead_zero_ohm=0.3)
    # IEC 60751: a platinum element has 1 / 1.077935 of its 20 °C resistance at 0 °C
    assert corrected_ohm(reading, Element.PLATINUM) == pytest.approx(2.3 * 1.077935, rel=1e-6)
    assert corrected_ohm(reading, Element.PLATINUM) > 2.3, "a cold heater reads low"


@given(resistances, st.floats(-20, 50), st.floats(0, 0.5))
def test_one_sensor_corrects_to_one_figure(ohm: float, air_c: float, leads: float) -> None:
    ratio = resistance_ratio_platinum(air_c) / resistance_ratio_platinum(20)
    reading = GoodReading(ohm * ratio + leads, air_c, leads)
    assert corrected_ohm(reading, Element.PLATINUM) == pytest.approx(ohm)
    assert corrected_ohm(reading) == pytest.approx(ohm, rel=0.022), "an unknown element"


@given(resistances, st.floats(-20, 50))
def test_an_unknown_element_lies_between_the_known(ohm: float, air_c: float) -> None:
    reading = GoodReading(ohm, air_c)
    known = [corrected_ohm(reading, e) for e in (Element.PLATINUM, Element.TUNGSTEN)]
    assert min(known) * (1 - 1e-3) <= corrected_ohm(reading) <= max(known) * (1 + 1e-3)


def test_eight_readings_make_a_range() -> None:
    pool = pooled(at_20(*EIGHT), resolution_ohm=0.1)
    assert pool.left_out_ohm is None
    assert pool.kept_ohm == pytest.approx(EIGHT)
    assert pool.tolerance is not None
    half = 3.2699 * stdev(EIGHT) + 0.05
    assert pool.tolerance.low_ohm == pytest.approx(fmean(EIGHT) - half)
    assert pool.tolerance.high_ohm == pytest.approx(fmean(EIGHT) + half)


@pytest.mark.parametrize("count", range(FEWEST))
def test_fewer_are_listed_as_they_are(count: int) -> None:
    readings = [*EIGHT[1:count], 9.9][:count]
    pool = pooled(at_20(*readings))
    assert pool.tolerance is None
    assert pool.left_out_ohm is None
    assert pool.kept_ohm == pytest.approx(sorted(readings))


def test_an_outlier_is_left_out_and_named() -> None:
    pool = pooled(at_20(*EIGHT, 6.0))
    assert pool.left_out_ohm == pytest.approx(6.0)
    assert pool.kept_ohm == pytest.approx(EIGHT)
    assert pool.tolerance == pooled(at_20(*EIGHT)).tolerance


def test_an_outlier_among_eight_leaves_too_few() -> None:
    pool = pooled(at_20(*EIGHT[:7], 6.0))
    assert pool.left_out_ohm == pytest.approx(6.0)
    assert len(pool.kept_ohm) == 7
    assert pool.tolerance is None


def test_only_one_is_ever_left_out() -> None:
    pool = pooled(at_20(*EIGHT, *EIGHT, *EIGHT, 6.0, 9.0))
    assert pool.left_out_ohm == pytest.approx(9.0)
    assert max(pool.kept_ohm) == pytest.approx(6.0)


def test_readings_all_alike_still_stand_for_a_step() -> None:
    # Ten times 1.62 has a mean that is not quite 1.62; none of the ten is an outlier for that.
    pool = pooled(at_20(*[1.62] * 10), resolution_ohm=0.1)
    assert pool.left_out_ohm is None
    assert pool.tolerance is not None
    assert (pool.tolerance.low_ohm, pool.tolerance.high_ohm) == pytest.approx((1.57, 1.67))


@given(st.lists(resistances, min_size=8, max_size=70), st.floats(0, 0.5))
def test_the_range_holds_the_mean_and_never_goes_below_zero(
    ohms: list[float], resolution: float
) -> None:
    pool = pooled(at_20(*ohms), resolution_ohm=resolution)
    assert len(pool.kept_ohm) + (pool.left_out_ohm is not None) == len(ohms)
    if pool.tolerance is not None:
        assert 0 <= pool.tolerance.low_ohm <= fmean(pool.kept_ohm) + 1e-9
        assert pool.tolerance.contains(fmean(pool.kept_ohm)) or resolution == 0


def test_the_order_of_readings_does_not_matter() -> None:
    readings = at_20(*EIGHT, 3.0)
    assert pooled(readings) == pooled(readings[::-1])


def test_the_tables_end_at_sixty() -> None:
    assert tolerance_factor(61) == tolerance_factor(60) == tolerance_factor(1000)
    assert outlier_limit(61) == outlier_limit(60)
    factors = [tolerance_factor(n) for n in range(8, 61)]
    assert factors == sorted(factors, reverse=True)
    for table in (tolerance_factor, outlier_limit):
        with pytest.raises(ValueError, match="begins at 8 readings, not 7"):
            table(7)


@pytest.mark.parametrize(
    ("shown", "air", "leads", "message"),
    [
        (0.2, 20, 0.2, "no reading of a heater"),
        (0.1, 20, 0.2, "no reading of a heater"),
        (float("inf"), 20, 0, "no reading of a heater"),
        (float("nan"), 20, 0, "no reading of a heater"),
        (2.4, 51, 0, "not from 51 degC"),
        (2.4, float("nan"), 0, "not from nan degC"),
    ],
)
def test_what_is_no_reading_is_refused(
    shown: float, air: float, leads: float, message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        GoodReading(shown, air, leads)


def test_a_resolution_must_be_one() -> None:
    with pytest.raises(ValueError, match="resolution"):
        pooled(at_20(*EIGHT), resolution_ohm=-0.1)
