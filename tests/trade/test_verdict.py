import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.heater import Element, ResistanceRange, expected_range
from generator.trade.verdict import (
    Beyond,
    Meter,
    NextStep,
    Outcome,
    Reading,
    expanded_uncertainty_ohm,
    judge,
)

HANDHELD = Meter(percent_of_reading=0.9, counts=3, resolution_ohm=0.1)
FINE = Meter(percent_of_reading=0.1, counts=2, resolution_ohm=0.001)
PERFECT = Meter(percent_of_reading=0, counts=0, resolution_ohm=0.001)
SPECIFIED = ResistanceRange(2.1, 2.9)
WIDE = ResistanceRange(9, 20)

METERS = st.builds(Meter, st.floats(0, 2), st.floats(0, 5), st.sampled_from([0.001, 0.01, 0.1]))
AIR_C = st.floats(-20, 50)


def at_20(shown_ohm, lead_zero_ohm=0.0):
    return Reading(shown_ohm, lead_zero_ohm, air_c=20, thermometer_tolerance_k=0)


@pytest.mark.parametrize("shown_ohm", [None, math.inf])
@pytest.mark.parametrize("specified", [None, SPECIFIED])
def test_over_range_is_open_with_or_without_a_specification(shown_ohm, specified):
    verdict = judge(at_20(shown_ohm), HANDHELD, specified)
    assert verdict.outcome is Outcome.OPEN_CIRCUIT
    assert verdict.outcome.condemns
    assert (verdict.corrected_ohm, verdict.expanded_uncertainty_ohm) == (None, None)
    assert verdict.next_steps[-1] is NextStep.REPLACE_SENSOR


def test_an_enormous_reading_is_open_and_a_merely_high_one_is_not():
    assert judge(at_20(50_000), HANDHELD, None).outcome is Outcome.OPEN_CIRCUIT
    assert judge(at_20(900), HANDHELD, None).outcome is Outcome.OUTSIDE_RULE_OF_THUMB
    assert judge(at_20(900), HANDHELD, SPECIFIED).outcome is Outcome.OUT_OF_RANGE


def test_a_high_specification_lifts_the_open_threshold():
    assert judge(at_20(2000), HANDHELD, ResistanceRange(400, 500)).outcome is Outcome.OUT_OF_RANGE


def test_near_zero_is_a_short():
    for specified in (None, SPECIFIED):
        verdict = judge(at_20(0.2, 0.1), HANDHELD, specified)
        assert verdict.outcome is Outcome.SHORT_CIRCUIT
        assert NextStep.CHECK_FUSE in verdict.next_steps


def test_without_a_specification_a_short_is_under_half_of_1_5_ohm():
    assert judge(at_20(0.7), FINE, None).outcome is Outcome.SHORT_CIRCUIT
    assert judge(at_20(0.9), FINE, None).outcome is Outcome.OUTSIDE_RULE_OF_THUMB


def test_open_and_short_are_guarded_too():
    assert judge(at_20(0.6), HANDHELD, None).outcome is Outcome.OUTSIDE_RULE_OF_THUMB
    assert judge(at_20(1005), HANDHELD, None).outcome is Outcome.OUTSIDE_RULE_OF_THUMB
    assert judge(at_20(1020), HANDHELD, None).outcome is Outcome.OPEN_CIRCUIT


def test_a_coarse_meter_does_not_make_a_short_of_a_low_heater():
    coarse = Meter(percent_of_reading=1, counts=5, resolution_ohm=0.1)
    verdict = judge(at_20(0.9), coarse, ResistanceRange(1.2, 1.8))
    assert verdict.outcome is Outcome.CANNOT_TELL_YET


def test_leads_read_higher_than_the_sensor_prove_nothing():
    verdict = judge(at_20(0.1, 1.5), HANDHELD, SPECIFIED)
    assert verdict.outcome is Outcome.CANNOT_TELL_YET
    assert verdict.next_steps[0] is NextStep.ZERO_THE_LEADS


def test_a_working_sensor_of_5_4_ohm_is_not_condemned_without_a_specification():
    """Common practice, no source: seen on the bench at about 8 degC, and it worked."""
    verdict = judge(Reading(5.4, 0.0, air_c=8), HANDHELD, None)
    assert verdict.outcome is Outcome.OUTSIDE_RULE_OF_THUMB
    assert not verdict.outcome.condemns
    assert verdict.beyond is Beyond.ABOVE
    assert NextStep.REPLACE_SENSOR not in verdict.next_steps
    assert verdict.next_steps == (
        NextStep.ZERO_THE_LEADS,
        NextStep.LET_IT_COOL,
        NextStep.COMPARE_OTHER_BANK,
        NextStep.FIND_SPECIFICATION,
        NextStep.GO_BY_LIVE_DATA,
    )


def test_near_zero_without_a_specification_the_fuse_is_looked_at():
    """The meter's own error hides a short, so none is named, but what a short does is."""
    verdict = judge(at_20(0.3, 0.2), Meter(0.8, 5, 0.1), None)
    assert verdict.outcome is Outcome.OUTSIDE_RULE_OF_THUMB
    assert NextStep.CHECK_FUSE in verdict.next_steps


def test_inside_the_rule_of_thumb_is_likely_good_and_not_more():
    verdict = judge(at_20(3.0), HANDHELD, None)
    assert verdict.outcome is Outcome.WITHIN_RULE_OF_THUMB
    assert NextStep.FIND_SPECIFICATION in verdict.next_steps


def test_the_zero_of_the_leads_is_subtracted():
    assert judge(at_20(3.4, 0.4), FINE, SPECIFIED).corrected_ohm == pytest.approx(3.0)
    assert judge(at_20(2.9, 0.4), FINE, SPECIFIED).outcome is Outcome.IN_RANGE
    assert judge(at_20(3.4, 0.4), FINE, SPECIFIED).outcome is Outcome.OUT_OF_RANGE


def test_a_reading_that_spans_a_limit_cannot_tell_yet():
    verdict = judge(at_20(3.1), HANDHELD, SPECIFIED)
    assert verdict.outcome is Outcome.CANNOT_TELL_YET
    assert not verdict.outcome.condemns
    assert NextStep.FINER_METER in verdict.next_steps
    assert NextStep.MEASURE_NEAR_REFERENCE not in verdict.next_steps


def test_a_meter_that_could_pass_a_sensor_is_fine_enough():
    verdict = judge(at_20(9.1), HANDHELD, WIDE)
    assert verdict.outcome is Outcome.CANNOT_TELL_YET
    assert NextStep.FINER_METER not in verdict.next_steps


def test_guard_bands_are_the_expanded_uncertainty_wide():
    spread_ohm = judge(at_20(12), HANDHELD, WIDE).expanded_uncertainty_ohm
    assert judge(at_20(9 + spread_ohm), HANDHELD, WIDE).outcome is Outcome.IN_RANGE
    assert judge(at_20(9.0), HANDHELD, WIDE).outcome is Outcome.CANNOT_TELL_YET
    assert judge(at_20(9 - spread_ohm), HANDHELD, WIDE).outcome is Outcome.OUT_OF_RANGE


def test_a_perfect_meter_accepts_both_limits():
    for shown_ohm in (2.1, 2.9):
        assert judge(at_20(shown_ohm), PERFECT, SPECIFIED).outcome is Outcome.IN_RANGE


def test_a_warm_sensor_is_asked_to_cool_and_a_low_one_is_not():
    above = judge(at_20(4.0), HANDHELD, SPECIFIED)
    below = judge(at_20(1.5), FINE, SPECIFIED)
    assert (above.outcome, above.beyond) == (Outcome.OUT_OF_RANGE, Beyond.ABOVE)
    assert (below.outcome, below.beyond) == (Outcome.OUT_OF_RANGE, Beyond.BELOW)
    assert NextStep.LET_IT_COOL in above.next_steps
    assert NextStep.LET_IT_COOL not in below.next_steps


def test_far_from_the_reference_a_reading_inside_the_specification_is_not_condemned():
    """An element of a smaller coefficient than the table's would read so."""
    verdict = judge(Reading(2.85, 0.0, air_c=-15), FINE, SPECIFIED)
    assert verdict.beyond is Beyond.ABOVE
    assert verdict.outcome is Outcome.CANNOT_TELL_YET
    assert NextStep.MEASURE_NEAR_REFERENCE in verdict.next_steps
    assert judge(Reading(2.95, 0.0, air_c=-15), FINE, SPECIFIED).outcome is Outcome.OUT_OF_RANGE


def test_the_range_of_the_verdict_is_at_the_temperature_of_the_air():
    verdict = judge(Reading(2.2, 0.0, air_c=5), FINE, SPECIFIED, 25, Element.PLATINUM)
    assert verdict.range == expected_range(SPECIFIED, 25, 5, Element.PLATINUM, 1.0)
    assert verdict.outcome is Outcome.IN_RANGE


@given(st.floats(0, 5000), st.floats(0, 1), AIR_C, METERS)
def test_without_a_specification_only_open_and_short_condemn(shown_ohm, zero_ohm, air_c, meter):
    outcome = judge(Reading(shown_ohm, zero_ohm, air_c), meter, None).outcome
    if outcome.condemns:
        assert outcome in (Outcome.OPEN_CIRCUIT, Outcome.SHORT_CIRCUIT)
        assert not 1 < shown_ohm - zero_ohm < 900


@given(st.floats(0.5, 40), st.floats(0, 1), AIR_C, METERS)
def test_a_decision_survives_the_uncertainty(shown_ohm, zero_ohm, air_c, meter):
    reading = Reading(shown_ohm, zero_ohm, air_c)
    verdict = judge(reading, meter, WIDE)
    spread_ohm = verdict.expanded_uncertainty_ohm
    ends_ohm = (verdict.corrected_ohm - spread_ohm, verdict.corrected_ohm + spread_ohm)
    inside = [verdict.range.contains(end_ohm) for end_ohm in ends_ohm]
    if verdict.outcome is Outcome.IN_RANGE:
        assert all(inside)
    if verdict.outcome.condemns:
        assert not any(inside)
        assert verdict.beyond is not None


@given(st.floats(0.5, 40), AIR_C, METERS)
def test_a_better_meter_never_reverses_a_verdict(shown_ohm, air_c, meter):
    reading = Reading(shown_ohm, 0.1, air_c)
    coarse = judge(reading, meter, WIDE).outcome
    perfect = judge(reading, PERFECT, WIDE).outcome
    if coarse is Outcome.IN_RANGE:
        assert perfect is Outcome.IN_RANGE
    if coarse.condemns:
        assert perfect.condemns


@given(st.lists(st.floats(0, 1), min_size=1, max_size=4))
def test_uncertainty_is_no_less_than_its_largest_part_and_no_more_than_the_sum(half_widths_ohm):
    parts = [expanded_uncertainty_ohm([half_width]) for half_width in half_widths_ohm]
    whole = expanded_uncertainty_ohm(half_widths_ohm)
    assert max(parts) <= whole * (1 + 1e-12)
    assert whole <= sum(parts) * (1 + 1e-12)


@pytest.mark.parametrize("figures", [(-1, 3, 0.1), (1, -3, 0.1), (1, 3, 0), (math.nan, 3, 0.1)])
def test_what_is_no_meter_is_refused(figures):
    with pytest.raises(ValueError, match="accuracy"):
        Meter(*figures)


@pytest.mark.parametrize(("shown_ohm", "zero_ohm"), [(math.nan, 0), (-math.inf, 0), (2, math.inf)])
def test_what_is_no_reading_is_refused(shown_ohm, zero_ohm):
    with pytest.raises(ValueError, match="not a"):
        Reading(shown_ohm, zero_ohm, air_c=20)


def test_a_reading_in_impossible_air_is_refused():
    with pytest.raises(ValueError, match="air temperature"):
        judge(Reading(2.5, 0, air_c=60), FINE, SPECIFIED)
