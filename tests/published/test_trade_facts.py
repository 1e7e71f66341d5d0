"""The trade layer against the outside world: `facts.yml` names the source of every number."""

import math
from itertools import pairwise
from pathlib import Path

import pint
import pytest
import yaml
from scipy import constants
from scipy.stats import norm

from generator.trade.fuse import fuse_colour
from generator.trade.heater import (
    TUNGSTEN_PER_K,
    Element,
    ResistanceRange,
    expected_range,
    resistance_factors,
    resistance_ratio_platinum,
    resistance_ratio_tungsten,
)
from generator.trade.torque import (
    COMMON_WRENCHES,
    TorqueRange,
    TorqueUnit,
    adapter_setting,
    converted,
)
from generator.trade.verdict import (
    COVERAGE_FACTOR,
    Meter,
    Outcome,
    Reading,
    expanded_uncertainty_ohm,
    judge,
    standard_uncertainty_ohm,
)

FACTS = yaml.safe_load(Path(__file__).with_name("facts.yml").read_text(encoding="utf-8"))
PLATINUM_OHM = FACTS["platinum"]["ohm_by_temperature_c"]


def by_source(facts):
    return [pytest.param(fact, id=fact["source"]) for fact in facts]


# IEC 60751:2008 / DIN EN 60751:1996, Pt100 tables, printed to 0.01 ohm.
@pytest.mark.parametrize(("t_c", "ohm"), PLATINUM_OHM.items())
def test_platinum_follows_iec_60751(t_c, ohm):
    assert round(100 * resistance_ratio_platinum(t_c), 2) == ohm


# Callendar-Van Dusen polynomial with A, B and C of IEC 60751:2008.
def test_platinum_below_0_uses_the_third_coefficient():
    fact = FACTS["platinum_polynomial"]
    assert round(100 * resistance_ratio_platinum(-20), 4) == fact["ohm_at_minus_20_c"]
    ratio = resistance_ratio_platinum(-20) / resistance_ratio_platinum(20)
    assert round(ratio, 6) == fact["ratio_minus_20_to_20_c"]


# IEC 60751 scope.
def test_mean_coefficient_of_platinum():
    mean_per_k = (resistance_ratio_platinum(100) - 1) / 100
    assert round(mean_per_k, 6) == FACTS["platinum_alpha"]["per_k"]


# DIN 43760 on IPTS-68, the older table: the check above can tell the two apart.
@pytest.mark.parametrize(
    ("t_c", "ohm"), FACTS["platinum_old_scale"]["ohm_by_temperature_c"].items()
)
def test_platinum_does_not_follow_the_older_table(t_c, ohm):
    assert round(100 * resistance_ratio_platinum(t_c), 2) != ohm


# The heater specified at 20 degC, carried to each printed temperature by the IEC 60751 table.
@pytest.mark.parametrize("t_c", [-20, 0, 10, 40, 50])
def test_the_expected_range_scales_as_the_table(t_c):
    expected = expected_range(ResistanceRange(2, 4), 20, t_c, Element.PLATINUM, 0)
    ratio = PLATINUM_OHM[t_c] / PLATINUM_OHM[20]
    assert expected.low_ohm == pytest.approx(2 * ratio, rel=1e-4)
    assert expected.high_ohm == pytest.approx(4 * ratio, rel=1e-4)


# The table itself: colder is lower.
def test_the_published_table_rises_with_temperature():
    ohms = [PLATINUM_OHM[t_c] for t_c in sorted(PLATINUM_OHM)]
    assert all(colder < warmer for colder, warmer in pairwise(ohms))


@pytest.mark.parametrize("fact", by_source(FACTS["tungsten_at_20_c"]))
def test_tungsten_lies_between_its_sources(fact):
    assert fact["per_k"] in TUNGSTEN_PER_K
    assert resistance_ratio_tungsten(21, fact["per_k"]) == pytest.approx(1 + fact["per_k"])
    lowest, highest = resistance_factors(30, 20, Element.TUNGSTEN)
    assert lowest <= 1 + 10 * fact["per_k"] <= highest


@pytest.mark.parametrize("fact", by_source(FACTS["torque_units"]))
def test_torque_factors(fact):
    factor = float(TorqueUnit(fact["unit"]).newton_metres)
    assert factor == pytest.approx(fact["newton_metres"], rel=1e-14)


@pytest.mark.parametrize("fact", by_source(FACTS["torque_units_printed"]))
def test_torque_factors_as_printed(fact):
    factor = float(TorqueUnit(fact["unit"]).newton_metres)
    assert round(factor, fact["decimals"]) == fact["newton_metres"]


# scipy.constants (CODATA 2022 set) and pint, asked now and not copied.
@pytest.mark.parametrize(
    ("unit", "by_scipy", "by_pint"),
    [
        (TorqueUnit.POUND_FORCE_FOOT, constants.lbf * constants.foot, "force_pound * foot"),
        (TorqueUnit.POUND_FORCE_INCH, constants.lbf * constants.inch, "force_pound * inch"),
        (TorqueUnit.KILOGRAM_FORCE_METRE, constants.kgf, "force_kilogram * meter"),
    ],
)
def test_torque_factors_by_libraries(unit, by_scipy, by_pint):
    factor = float(unit.newton_metres)
    assert factor == pytest.approx(by_scipy, rel=1e-14)
    quantity = pint.UnitRegistry().Quantity(1, by_pint)
    assert factor == pytest.approx(quantity.to("newton * meter").magnitude, rel=1e-14)


# pint, over the whole conversion: the shown range converts back to inside the specified one.
@pytest.mark.parametrize(("low_nm", "high_nm"), [(40, 48), (7, 9), (18, 22), (58.8, 63.7)])
def test_a_shown_range_is_inside_the_specified_one_by_pint(low_nm, high_nm):
    shown = converted(TorqueRange(low_nm, high_nm), TorqueUnit.POUND_FORCE_FOOT)
    registry = pint.UnitRegistry()
    back_nm = [
        registry.Quantity(float(end), "force_pound * foot").to("newton * meter").magnitude
        for end in (shown.low, shown.high)
    ]
    assert low_nm <= back_nm[0] < back_nm[1] <= high_nm


@pytest.mark.parametrize("fact", by_source(FACTS["adapters"]))
def test_adapter_settings_of_the_manuals(fact):
    setting = adapter_setting(fact["torque"], fact["wrench"], fact["adapter"], fact["angle_deg"])
    assert setting == pytest.approx(fact["setting"], abs=5e-5)
    # What a manual prints is rounded to whole units; a worked-out figure is not printed anywhere.
    assert round(setting) == fact.get("printed", round(fact["setting"]))


# US Army TM 1-1500-204-23-9 table 8-1.
@pytest.mark.parametrize("wrench", COMMON_WRENCHES, ids=lambda wrench: f"{wrench.scale_nm:g} N·m")
def test_a_wrench_is_trusted_from_a_fifth_of_its_scale(wrench):
    share = FACTS["wrench_scale"]["lowest_percent"] / 100
    assert wrench.covers(wrench.scale_nm * share)
    assert not wrench.covers(wrench.scale_nm * (share - 0.001))
    assert wrench.covers(wrench.scale_nm)
    assert not wrench.covers(wrench.scale_nm * 1.001)


# Blade fuse chart of a parts retailer; ISO 8820-3's own table was not seen.
@pytest.mark.parametrize(("rating_a", "colour"), FACTS["fuse_colours"]["by_rating_a"].items())
def test_fuse_colours(rating_a, colour):
    assert fuse_colour(rating_a) == colour


@pytest.mark.parametrize("fact", by_source(FACTS["meter"]))
def test_meter_limits(fact):
    meter = Meter(fact["percent"], fact["counts"], fact["resolution"])
    assert round(meter.limit_ohm(fact["shown"]), fact["decimals"]) == fact["limit"]


# JCGM 100:2008 (GUM) clauses 4.3.7, 5.1.2 and 6.2.
def test_uncertainty_of_the_worked_reading():
    fact = FACTS["uncertainty"]
    half_width_ohm = Meter(0.9, 3, 0.1).limit_ohm(6.0)
    assert round(standard_uncertainty_ohm(half_width_ohm), 5) == fact["standard_ohm"]
    expanded_ohm = expanded_uncertainty_ohm([half_width_ohm, fact["lead_half_width_ohm"]])
    assert round(expanded_ohm, 5) == fact["expanded_with_lead_ohm"]


# scipy.stats.norm: a reading just accepted, its guard band off the limit, is outside this often.
def test_guarded_acceptance_leaves_the_stated_risk():
    meter, limits = Meter(0.9, 3, 0.1), ResistanceRange(1, 20)
    spread_ohm = expanded_uncertainty_ohm([meter.limit_ohm(6.0), meter.limit_ohm(0.2)])
    lead_zero_ohm, corrected_ohm = 0.2, 5.8
    reading = Reading(6.0, lead_zero_ohm, air_c=20, thermometer_tolerance_k=0)
    upper_ohm = corrected_ohm + spread_ohm
    just_in = ResistanceRange(limits.low_ohm, upper_ohm + 1e-9)
    just_not = ResistanceRange(limits.low_ohm, upper_ohm - 1e-9)
    assert judge(reading, meter, just_in).outcome is Outcome.IN_RANGE
    assert judge(reading, meter, just_not).outcome is Outcome.CANNOT_TELL_YET
    u_ohm = math.hypot(meter.limit_ohm(6.0), meter.limit_ohm(0.2)) / math.sqrt(3)
    risk_percent = 100 * norm.sf(upper_ohm, loc=corrected_ohm, scale=u_ohm)
    assert round(risk_percent, 2) == FACTS["guard_band"]["risk_percent"]


# scipy.stats.norm, conformance probability: two limits each a guard band away.
@pytest.mark.parametrize("fact", FACTS["guard_band"]["conformance"])
def test_conformance_probability_at_the_edge_of_acceptance(fact):
    guard = COVERAGE_FACTOR * fact["u"]
    assert fact["measured"] + guard == pytest.approx(fact["upper"])
    lower = fact.get("lower", -math.inf)
    probability = norm.cdf(fact["upper"], fact["measured"], fact["u"]) - norm.cdf(
        lower, fact["measured"], fact["u"]
    )
    assert probability == pytest.approx(fact["probability"], abs=5e-5)
