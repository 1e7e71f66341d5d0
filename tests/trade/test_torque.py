import cmath
import math
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from generator.trade.torque import (
    COMMON_WRENCHES,
    WRENCH_STEPS,
    TorqueRange,
    TorqueUnit,
    WrenchRange,
    adapter_range,
    adapter_setting,
    converted,
    not_covered,
    scale_in,
    wrenches_covering,
)

UNITS = st.sampled_from(TorqueUnit)
TORQUES_NM = st.floats(0.5, 500)
# Rounding cuts off the twelfth figure and what follows.
CUT = Fraction(1, 10**11)


@st.composite
def true_ranges(draw):
    low_nm, high_nm = sorted((draw(TORQUES_NM), draw(TORQUES_NM)))
    assume(high_nm - low_nm > 1e-6)
    return TorqueRange(low_nm, high_nm)


@given(true_ranges(), UNITS)
def test_a_converted_range_never_leaves_the_specified_one(torque, unit):
    shown = converted(torque, unit)
    assert shown.low < shown.high
    assert Fraction(shown.low) * unit.newton_metres >= Fraction(torque.low_nm) * (1 - CUT)
    assert Fraction(shown.high) * unit.newton_metres <= Fraction(torque.high_nm) * (1 + CUT)


@given(true_ranges(), UNITS)
def test_a_converted_range_is_as_wide_as_its_step_allows(torque, unit):
    shown = converted(torque, unit)
    assert shown.low % shown.step == 0
    assert shown.high % shown.step == 0
    for end, specified_nm in ((shown.low, torque.low_nm), (shown.high, torque.high_nm)):
        lost_nm = abs(Fraction(end) * unit.newton_metres - Fraction(specified_nm))
        assert lost_nm < Fraction(shown.step) * unit.newton_metres * (1 + CUT)


@given(true_ranges(), UNITS)
def test_no_coarser_step_of_the_scale_would_do(torque, unit):
    shown = converted(torque, unit)
    width = (Fraction(torque.high_nm) - Fraction(torque.low_nm)) / unit.newton_metres
    for step in WRENCH_STEPS[unit]:
        if step > shown.step:
            assert width < 2 * Fraction(step), "two multiples always lie in two steps"


@given(st.integers(1, 400), st.integers(1, 100), UNITS)
def test_a_range_specified_in_a_unit_comes_back_unchanged(low, width, unit):
    factor = float(unit.newton_metres)
    shown = converted(TorqueRange(low * factor, (low + 5 * width) * factor), unit)
    if unit is not TorqueUnit.POUND_FORCE_INCH:
        assert (shown.low, shown.high, shown.exact) == (low, low + 5 * width, True)
    else:
        assert low <= shown.low < shown.high <= low + 5 * width


@given(TORQUES_NM, UNITS)
def test_a_single_torque_keeps_three_figures(torque_nm, unit):
    shown = converted(TorqueRange(torque_nm, torque_nm), unit)
    assert shown.low == shown.high
    specified = Fraction(torque_nm) / unit.newton_metres
    assert abs(Fraction(shown.low) - specified) <= specified * Fraction(5, 1000)
    if shown.exact:
        assert abs(Fraction(shown.low) - specified) <= specified * CUT
    else:
        assert abs(Fraction(shown.low) - specified) <= Fraction(shown.step) / 2 * (1 + CUT)


def text(low_nm, high_nm, unit):
    shown = converted(TorqueRange(low_nm, high_nm), unit)
    return f"{shown.low} to {shown.high}" if shown.low != shown.high else f"{shown.low}"


@pytest.mark.parametrize(
    ("low_nm", "high_nm", "unit", "expected"),
    [
        (40, 48, TorqueUnit.NEWTON_METRE, "40 to 48"),
        (40, 48, TorqueUnit.POUND_FORCE_FOOT, "30 to 35"),
        (40, 48, TorqueUnit.POUND_FORCE_INCH, "355 to 420"),
        (40, 48, TorqueUnit.KILOGRAM_FORCE_METRE, "4.1 to 4.8"),
        (40, 41, TorqueUnit.POUND_FORCE_FOOT, "29.6 to 30.2"),
        (40.001, 40.002, TorqueUnit.NEWTON_METRE, "40.001 to 40.002"),
        (44, 44, TorqueUnit.NEWTON_METRE, "44"),
        (44, 44, TorqueUnit.POUND_FORCE_FOOT, "32.5"),
        (44, 44, TorqueUnit.KILOGRAM_FORCE_METRE, "4.49"),
        (24, 24, TorqueUnit.POUND_FORCE_INCH, "212"),
        (1234, 1234, TorqueUnit.NEWTON_METRE, "1234"),
    ],
)
def test_conversion_by_example(low_nm, high_nm, unit, expected):
    assert text(low_nm, high_nm, unit) == expected


def test_a_single_torque_says_whether_it_was_rounded():
    assert converted(TorqueRange(44, 44), TorqueUnit.NEWTON_METRE).exact
    assert not converted(TorqueRange(44, 44), TorqueUnit.POUND_FORCE_FOOT).exact


def test_a_range_says_whether_an_end_was_rounded():
    assert converted(TorqueRange(40, 48), TorqueUnit.NEWTON_METRE).exact
    assert not converted(TorqueRange(40, 48.5), TorqueUnit.NEWTON_METRE).exact
    assert not converted(TorqueRange(39.5, 48), TorqueUnit.NEWTON_METRE).exact
    assert not converted(TorqueRange(40, 48), TorqueUnit.POUND_FORCE_FOOT).exact


def test_steps_run_from_coarse_to_fine():
    for steps in WRENCH_STEPS.values():
        assert list(steps) == sorted(steps, reverse=True)
        assert all(isinstance(step, Decimal) for step in steps)
    assert set(WRENCH_STEPS) == set(TorqueUnit)


@pytest.mark.parametrize("ends", [(0, 1), (-1, 1), (2, 1), (1, float("inf")), (float("nan"), 1)])
def test_what_is_no_torque_is_refused(ends):
    with pytest.raises(ValueError, match="not a torque range"):
        TorqueRange(*ends)


LENGTHS_MM = st.floats(150, 800)
OFFSETS_MM = st.floats(10, 100)
ANGLES_DEG = st.floats(-180, 180)


@given(TORQUES_NM, LENGTHS_MM, OFFSETS_MM, ANGLES_DEG)
def test_the_moment_about_the_fastener_is_the_torque(torque_nm, wrench_mm, adapter_mm, angle_deg):
    """Statics: the hand pushes at the grip, square to the wrench; moments about the fastener."""
    setting_nm = adapter_setting(torque_nm, wrench_mm, adapter_mm, angle_deg)
    push = setting_nm / wrench_mm * 1j  # the wrench lies along the real axis, square drive at 0
    fastener = cmath.rect(adapter_mm, math.radians(angle_deg))
    arm = fastener - (-wrench_mm)
    assert abs((arm.conjugate() * push).imag) == pytest.approx(torque_nm)


@given(TORQUES_NM, LENGTHS_MM, OFFSETS_MM)
def test_the_setting_rises_with_the_angle_from_less_to_more_than_the_torque(
    torque_nm, wrench_mm, adapter_mm
):
    settings_nm = [
        adapter_setting(torque_nm, wrench_mm, adapter_mm, angle_deg)
        for angle_deg in (0, 45, 90, 135, 180)
    ]
    assert settings_nm == sorted(settings_nm)
    assert settings_nm[0] < torque_nm < settings_nm[-1]
    assert settings_nm[2] == pytest.approx(torque_nm, rel=1e-12)


@given(TORQUES_NM, LENGTHS_MM, OFFSETS_MM, ANGLES_DEG)
def test_the_adapter_may_be_turned_either_way(torque_nm, wrench_mm, adapter_mm, angle_deg):
    assert adapter_setting(torque_nm, wrench_mm, adapter_mm, angle_deg) == pytest.approx(
        adapter_setting(torque_nm, wrench_mm, adapter_mm, -angle_deg)
    )


def test_a_range_is_set_at_both_ends():
    settings = adapter_range(TorqueRange(40, 48), 400, 50)
    assert settings.low_nm == pytest.approx(40 * 400 / 450)
    assert settings.high_nm == pytest.approx(48 * 400 / 450)


@pytest.mark.parametrize(
    ("torque_nm", "wrench_mm", "adapter_mm", "angle_deg", "what"),
    [
        (40, 0, 50, 0, "wrench length"),
        (40, -400, 50, 0, "wrench length"),
        (40, 50, 50, 180, "lever"),
        (40, 50, 80, 180, "lever"),
        (0, 400, 50, 0, "torque"),
        (40, 400, float("nan"), 0, "lever"),
    ],
)
def test_a_lever_that_is_not_positive_is_refused(torque_nm, wrench_mm, adapter_mm, angle_deg, what):
    with pytest.raises(ValueError, match=what):
        adapter_setting(torque_nm, wrench_mm, adapter_mm, angle_deg)


@given(st.lists(st.floats(0.1, 600), max_size=6))
def test_the_wrenches_cover_every_torque_that_can_be(torques_nm):
    chosen = wrenches_covering(torques_nm)
    left_over = not_covered(torques_nm)
    for torque_nm in torques_nm:
        assert any(wrench.covers(torque_nm) for wrench in chosen) != (torque_nm in left_over)
    for wrench in chosen:
        fewer = [other for other in chosen if other != wrench]
        coverable = set(torques_nm) - set(left_over)
        assert not all(any(w.covers(t) for w in fewer) for t in coverable)


@pytest.mark.parametrize(
    ("torques_nm", "scales_nm"),
    [
        ([], []),
        ([44], [60]),
        ([8, 44], [10, 60]),
        ([24, 44], [60]),
        ([24, 44, 110], [110]),
        ([12, 61], [25, 110]),
        ([500], []),
    ],
)
def test_the_fewest_and_smallest_wrenches(torques_nm, scales_nm):
    assert wrenches_covering(torques_nm) == tuple(map(WrenchRange, scales_nm))


def test_what_no_common_wrench_covers():
    assert not_covered([500, 0.5, 44, 500]) == (0.5, 500)


def test_common_wrenches_leave_no_gap():
    for smaller, larger in pairwise(COMMON_WRENCHES):
        assert larger.low_nm <= smaller.high_nm


@given(st.sampled_from(COMMON_WRENCHES), UNITS, st.floats(0, 1))
def test_a_wrench_reaches_every_torque_it_covers_in_every_unit(wrench, unit, share):
    torque_nm = wrench.low_nm + share * (wrench.high_nm - wrench.low_nm)
    assume(wrench.covers(torque_nm))
    low, high = scale_in(wrench, unit)
    one = converted(TorqueRange(torque_nm, torque_nm), unit)
    # A single torque is rounded to nearest, at most half of its last figure beyond it
    assert low <= one.low and one.high <= high
    exact = Fraction(wrench.high_nm) / unit.newton_metres
    assert high - 1 < exact <= high
