import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.heater import (
    RULE_OF_THUMB,
    RULE_OF_THUMB_REFERENCE_C,
    Element,
    ResistanceRange,
    condemning_range,
    expected_range,
    resistance_factors,
    resistance_ratio_platinum,
    rounded_to_step,
    step_for,
)

ELEMENTS = st.sampled_from(Element)
AIR_C = st.floats(-20, 50)
TOLERANCES_K = st.floats(0, 5)
STEPS_OHM = st.sampled_from([0.01, 0.05, 0.1, 0.5, 1.0])


@st.composite
def ranges(draw, lowest_ohm=0.1, highest_ohm=50.0):
    ends = sorted((draw(st.floats(lowest_ohm, highest_ohm)), draw(st.floats(0.1, highest_ohm))))
    return ResistanceRange(*ends)


@given(ranges(), ELEMENTS, AIR_C, AIR_C)
def test_a_colder_heater_reads_lower(specified, element, one_c, other_c):
    colder_c, warmer_c = sorted((one_c, other_c))
    colder = expected_range(specified, 20, colder_c, element)
    warmer = expected_range(specified, 20, warmer_c, element)
    assert colder.low_ohm <= warmer.low_ohm
    assert colder.high_ohm <= warmer.high_ohm
    if warmer_c - colder_c > 0.01:
        assert colder.low_ohm < warmer.low_ohm
        assert colder.high_ohm < warmer.high_ohm


@given(st.floats(-200, 849))
def test_platinum_rises_over_the_whole_scale(t_c):
    assert resistance_ratio_platinum(t_c) < resistance_ratio_platinum(t_c + 1)


@given(ranges(), AIR_C, ELEMENTS)
def test_at_the_reference_temperature_the_range_is_the_specified_one(specified, t_c, element):
    expected = expected_range(specified, t_c, t_c, element, thermometer_tolerance_k=0)
    assert expected.low_ohm == pytest.approx(specified.low_ohm, rel=1e-12)
    assert expected.high_ohm == pytest.approx(specified.high_ohm, rel=1e-12)


@given(ranges(), AIR_C, AIR_C, TOLERANCES_K)
def test_an_unknown_element_holds_every_known_one(specified, reference_c, air_c, tolerance_k):
    unknown = expected_range(specified, reference_c, air_c, Element.UNKNOWN, tolerance_k)
    for element in (Element.PLATINUM, Element.TUNGSTEN):
        known = expected_range(specified, reference_c, air_c, element, tolerance_k)
        assert unknown.low_ohm <= known.low_ohm
        assert known.high_ohm <= unknown.high_ohm


@given(ranges(), ELEMENTS, AIR_C, TOLERANCES_K)
def test_a_worse_thermometer_widens_the_range(specified, element, air_c, tolerance_k):
    sharp = expected_range(specified, 20, air_c, element, 0)
    blunt = expected_range(specified, 20, air_c, element, tolerance_k)
    assert blunt.low_ohm <= sharp.low_ohm
    assert sharp.high_ohm <= blunt.high_ohm


@given(ranges(), ELEMENTS, st.floats(-10, 40), TOLERANCES_K)
def test_the_tolerance_is_that_much_colder_and_that_much_warmer_air(
    specified, element, air_c, tolerance_k
):
    widened = expected_range(specified, 20, air_c, element, tolerance_k)
    colder = expected_range(specified, 20, air_c - tolerance_k, element, 0)
    warmer = expected_range(specified, 20, air_c + tolerance_k, element, 0)
    assert (widened.low_ohm, widened.high_ohm) == (colder.low_ohm, warmer.high_ohm)


@given(ranges(), AIR_C, st.floats(0, 4e-3), st.floats(0, 1))
def test_an_element_of_a_smaller_coefficient_is_never_condemned(specified, air_c, per_k, share):
    """A good heater whose coefficient is anything below platinum's own reads inside."""
    good_at_20_ohm = specified.low_ohm + share * (specified.high_ohm - specified.low_ohm)
    platinum, _ = resistance_factors(air_c, 20, Element.PLATINUM)
    factor = 1 + per_k * (air_c - 20)
    if (factor - platinum) * (air_c - 20) > 0:
        return  # rises more steeply than platinum: not the case in question
    condemning = condemning_range(specified, expected_range(specified, 20, air_c))
    reads_ohm = good_at_20_ohm * factor
    assert condemning.low_ohm - 1e-9 <= reads_ohm <= condemning.high_ohm + 1e-9


@pytest.mark.parametrize("air_c", [-20.5, 50.5, float("nan")])
def test_air_outside_the_range_of_validity_is_refused(air_c):
    with pytest.raises(ValueError, match="air temperature"):
        expected_range(RULE_OF_THUMB, 20, air_c)
    with pytest.raises(ValueError, match="reference temperature"):
        expected_range(RULE_OF_THUMB, air_c, 20)


def test_a_negative_tolerance_is_refused():
    with pytest.raises(ValueError, match="tolerance"):
        expected_range(RULE_OF_THUMB, 20, 20, thermometer_tolerance_k=-1)


@pytest.mark.parametrize("t_c", [-200.1, 850.1])
def test_platinum_outside_its_standard_is_refused(t_c):
    with pytest.raises(ValueError, match="IEC 60751"):
        resistance_ratio_platinum(t_c)


@pytest.mark.parametrize(
    "ends", [(3, 2), (-1, 2), (float("nan"), 2), (1, float("nan")), (1, float("inf"))]
)
def test_what_is_no_range_is_refused(ends):
    with pytest.raises(ValueError, match="not a resistance range"):
        ResistanceRange(*ends)


def test_the_rule_of_thumb():
    assert (RULE_OF_THUMB.low_ohm, RULE_OF_THUMB.high_ohm) == (2, 4)
    assert RULE_OF_THUMB_REFERENCE_C == 20


@given(ranges(), STEPS_OHM, st.integers(0, 20))
def test_a_meter_of_that_step_reads_nothing_inside_that_the_shown_range_excludes(
    resistance, step_ohm, steps
):
    shown = rounded_to_step(resistance, step_ohm)
    reading_ohm = round(math.ceil(resistance.low_ohm / step_ohm) * step_ohm + steps * step_ohm, 6)
    if resistance.contains(reading_ohm):
        assert shown.low_ohm - 1e-9 <= reading_ohm <= shown.high_ohm + 1e-9
    assert abs(resistance.low_ohm - shown.low_ohm) <= step_ohm / 2 + 1e-9
    assert abs(shown.high_ohm - resistance.high_ohm) <= step_ohm / 2 + 1e-9


@given(st.integers(1, 500), st.integers(0, 500))
def test_figures_on_a_step_stay(low_tenths, width_tenths):
    on_step = ResistanceRange(low_tenths / 10, (low_tenths + width_tenths) / 10)
    assert rounded_to_step(on_step, 0.1) == on_step


def test_rounding_by_example():
    assert rounded_to_step(ResistanceRange(2.09, 2.91), 0.1) == ResistanceRange(2.1, 2.9)
    assert rounded_to_step(ResistanceRange(21.2, 24.7), 1) == ResistanceRange(21, 25)


@pytest.mark.parametrize("step_ohm", [0, -0.1, float("nan"), float("inf")])
def test_what_is_no_step_is_refused(step_ohm):
    with pytest.raises(ValueError, match="not a step"):
        rounded_to_step(RULE_OF_THUMB, step_ohm)


def test_the_step_follows_size_and_specification():
    assert step_for(ResistanceRange(2, 4)) == 0.1
    assert step_for(ResistanceRange(18, 20)) == 1
    assert step_for(ResistanceRange(2, 4), specified_step_ohm=0.01) == 0.01
    assert step_for(ResistanceRange(2, 4), specified_step_ohm=1) == 0.1
