import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.heater import ResistanceRange
from generator.trade.heater_current import (
    CurrentRange,
    FuseStatus,
    cold_current_a,
    fuse_load,
    hot_current_a,
    power,
)

UPSTREAM = ResistanceRange(2.1, 2.9)
RANGES = st.tuples(st.floats(0.5, 30), st.floats(0.5, 30)).map(
    lambda ends: ResistanceRange(*sorted(ends))
)


def test_first_current_by_ohms_law():
    current = cold_current_a(UPSTREAM)
    assert current.low_a == pytest.approx(12.0 / 2.9)
    assert current.high_a == pytest.approx(14.7 / 2.1)


def test_first_power_by_ohms_law():
    assert power(UPSTREAM).low_w == pytest.approx(49.655, abs=1e-3)
    assert power(UPSTREAM).high_w == pytest.approx(102.9)


def test_hot_current_is_a_quarter_to_a_third():
    assert hot_current_a(CurrentRange(4, 6)) == CurrentRange(1, 2)


@given(RANGES)
def test_power_is_voltage_times_current(cold):
    current, watts = cold_current_a(cold), power(cold)
    assert watts.low_w == pytest.approx(12.0 * current.low_a)
    assert watts.high_w == pytest.approx(14.7 * current.high_a)
    assert current.low_a < current.high_a


@given(st.lists(RANGES, max_size=5), st.floats(1, 40))
def test_a_fuse_sees_the_sum(heaters, rating_a):
    load = fuse_load(heaters, rating_a)
    worst_a = sum(14.7 / heater.low_ohm for heater in heaters)
    assert load.first.high_a == pytest.approx(worst_a)
    assert (load.status is FuseStatus.WITHIN) == (load.first.high_a <= rating_a)


def test_the_status_of_a_fuse():
    assert fuse_load([UPSTREAM], 10).status is FuseStatus.WITHIN
    assert fuse_load([UPSTREAM, UPSTREAM], 10).status is FuseStatus.ABOVE_AT_SWITCH_ON
    # Hot by the rule of thumb 5 to 12 A: that may be over, so it proves nothing wrong.
    assert fuse_load([UPSTREAM] * 5, 10).status is FuseStatus.ABOVE_AT_SWITCH_ON
    assert fuse_load([UPSTREAM] * 10, 10).status is FuseStatus.ABOVE_WHEN_HOT


def test_a_fuse_that_feeds_no_heater_carries_nothing():
    load = fuse_load([], 10)
    assert load.first == CurrentRange(0, 0)
    assert load.status is FuseStatus.WITHIN


def test_what_has_no_current_is_refused():
    with pytest.raises(ValueError, match="short circuit"):
        cold_current_a(ResistanceRange(0, 2))
    with pytest.raises(ValueError, match="not a supply"):
        power(UPSTREAM, supply_low_v=15, supply_high_v=12)
    for rating_a in (0, -5, float("nan")):
        with pytest.raises(ValueError, match="not a fuse rating"):
            fuse_load([UPSTREAM], rating_a)
