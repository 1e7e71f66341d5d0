"""Every vehicle profile that is shipped reads without errors."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.profile import Profile, read_profile
from generator.profile.sensor_model import Reach, Sensor
from generator.trade.access import removal_order
from generator.trade.hazard import Hazard
from generator.trade.likely_causes import DEFAULT_CAUSES
from generator.trade.pooled_readings import FEWEST, GoodReading, pooled
from generator.trade.sensor import SensorKind
from generator.trade.signal import pump_current_ma, pump_curve_faults

SHIPPED = sorted((Path(__file__).parents[2] / "vehicle_profiles").glob("*.y*ml"))


def profile_of(name: str) -> Profile:
    (path,) = (path for path in SHIPPED if path.stem == name)
    profile = read_profile(path).profile
    assert profile is not None
    return profile


def good_readings(sensor: Sensor) -> list[GoodReading]:
    return [
        GoodReading(
            each.resistance.low_ohm,
            each.air.low_c,
            each.meter_zero.low_ohm if each.meter_zero else 0.0,
        )
        for each in sensor.readings
    ]


def test_there_are_profiles() -> None:
    assert len(SHIPPED) >= 6


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_profile_reads_without_errors(path: Path) -> None:
    read = read_profile(path)
    assert not read.has_errors, "\n".join(str(finding) for finding in read.findings)
    assert read.profile is not None
    assert read.slug == path.stem


def test_the_only_warning_of_a_demonstration_is_the_one_its_comment_announces() -> None:
    found = [
        (path.stem, finding.rule) for path in SHIPPED for finding in read_profile(path).findings
    ]
    assert found == [("kestrin-moor-2-0-flat", "unsourced")]


def test_carrow_has_one_torque_missing_and_obstacles_three_deep() -> None:
    carrow = profile_of("fenwright-carrow-3-2-v6")
    without = [(each.bank, each.position) for each in carrow.sensors if each.torque is None]
    assert without == [(2, 2)]
    first = carrow.sensors[0]
    off = removal_order(first.behind, carrow.under)
    assert off == ("engine-cover", "strut-brace", "air-duct", "manifold-shield")


def test_pip_states_pounds_and_fahrenheit() -> None:
    pip = profile_of("lowmere-pip-1-4")
    upstream, downstream = pip.sensors
    assert upstream.behind == []
    assert upstream.torque is not None
    assert upstream.torque.value.text == "30 to 36 lbf·ft"
    # 1 lbf·ft = 1.3558179483314 N·m (NIST SP 811, appendix B.8)
    assert upstream.torque.value.low_nm == pytest.approx(30 * 1.3558179483314)
    assert downstream.cold_resistance is not None
    assert downstream.cold_resistance.at.low_c == pytest.approx(20.0)


def test_moor_leaves_the_upstream_heaters_unspecified() -> None:
    moor = profile_of("kestrin-moor-2-0-flat")
    upstream = [each for each in moor.sensors if each.position == 1]
    assert [each.kind for each in upstream] == [SensorKind.WIDE_RANGE] * 2
    assert all(each.is_heated and each.heater is not None for each in upstream)
    assert all(each.cold_resistance is None for each in upstream)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_readings_of_good_sensors_pool_inside_what_is_specified(path: Path) -> None:
    for sensor in profile_of(path.stem).sensors:
        pool = pooled(good_readings(sensor))
        stated = sensor.cold_resistance
        assert pool.left_out_ohm is None
        if stated:
            ohms = pool.kept_ohm
            assert all(stated.value.low_ohm <= ohm <= stated.value.high_ohm for ohm in ohms)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_likelihoods_name_the_causes_of_their_symptom(path: Path) -> None:
    for symptom, likelihoods in profile_of(path.stem).likelihoods.items():
        assert set(likelihoods.causes) <= {cause.name for cause in DEFAULT_CAUSES[symptom]}
        assert likelihoods.source is not None


def test_carrow_has_too_few_readings_for_a_range() -> None:
    carrow = profile_of("fenwright-carrow-3-2-v6")
    read = {(each.bank, each.position): len(each.readings) for each in carrow.sensors}
    assert read == {(1, 1): 0, (1, 2): 0, (2, 1): 3, (2, 2): 0}
    assert all(bool(each.supply_wire) == (each.position == 1) for each in carrow.sensors)


def test_brae_is_reached_through_the_wheel_arch_and_states_a_curve() -> None:
    brae = profile_of("tarnhelm-brae-3-6-flat-six")
    upstream = [each for each in brae.sensors if each.position == 1]
    assert [each.place.reach for each in upstream] == [Reach.WHEEL_ARCH] * 2
    for sensor in upstream:
        assert sensor.curve is not None
        assert pump_curve_faults(sensor.curve.points) == ()
        assert pump_current_ma(sensor.curve.points, 1.0) == 0.0
    # The bumper cover is screwed on inside both arches, so both wheels come off for it.
    off = removal_order(["silencer-shield"], brae.under)
    assert set(off[:4]) == {"left-wheel", "right-wheel", "left-liner", "right-liner"}
    assert off[4:] == ("bumper-cover", "silencer-shield")


def test_quarrendon_has_two_banks_in_line_and_no_heater() -> None:
    quarrendon = profile_of("quarrendon-s-2-8-six")
    assert [bank.cylinders for bank in quarrendon.banks.values()] == [[1, 2, 3], [4, 5, 6]]
    assert [wheel.value for wheel in quarrendon.steering] == ["right"]
    assert quarrendon.fuses == {}
    for sensor in quarrendon.sensors:
        assert (sensor.wires, sensor.is_heated, sensor.heater) == (1, False, None)
        assert sensor.torque is not None
        assert sensor.torque.value.text == "28 to 34 lbf·ft"


def test_ardent_has_three_positions_on_one_bank_and_enough_readings_for_a_range() -> None:
    ardent = profile_of("wexmoor-ardent-4-0-v8-hybrid")
    assert ardent.vehicle.hazards == [Hazard.HIGH_VOLTAGE]
    placed = [(each.bank, each.position) for each in ardent.sensors]
    assert placed == [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2)]
    assert {number: bank.catalysts for number, bank in ardent.banks.items()} == {1: 2, 2: 1}
    first, _second, third = ardent.sensors[:3]
    assert len(first.readings) >= FEWEST
    assert pooled(good_readings(first)).tolerance is not None
    assert third.cold_resistance is None
    assert pooled(good_readings(third)).tolerance is None
    assert Hazard.AIRBAG_WIRING in third.cautions
