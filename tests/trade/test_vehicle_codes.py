"""Which codes a set of sensors can set, and what stands beside them in the list."""

from __future__ import annotations

import pytest

from generator.trade.fault_code_table import FAULT_CODES
from generator.trade.sensor import SensorKind
from generator.trade.vehicle_codes import (
    FittedSensor,
    codes_on,
    decimal_neighbour,
    exchanged_codes,
    sensor_codes,
    strangers_near,
)

FIRST = FittedSensor(1, 1, SensorKind.WIDE_RANGE, is_heated=True)
SECOND = FittedSensor(1, 2, SensorKind.SWITCHING, is_heated=True)
OTHER_BANK = FittedSensor(2, 1, SensorKind.WIDE_RANGE, is_heated=True)
ONE_WIRE = FittedSensor(1, 1, SensorKind.SWITCHING, is_heated=False)


def names(sensor: FittedSensor) -> set[str]:
    return {code.code for code in sensor_codes(sensor)}


def test_a_heated_wide_range_sensor_has_heater_and_pump_codes() -> None:
    assert {"P0030", "P0053", "P0130", "P0135", "P2195", "P2231", "P2237", "P2A00"} <= names(FIRST)
    assert "P0040" not in names(FIRST), "that one is about two sensors"


def test_a_switching_sensor_has_no_pump() -> None:
    assert names(SECOND).isdisjoint({"P2237", "P2243", "P2251", "P2626"})


def test_a_sensor_without_heater_has_no_code_about_one() -> None:
    assert names(ONE_WIRE).isdisjoint({"P0030", "P0031", "P0053", "P0135", "P2231"})
    assert {"P0130", "P0134", "P2195"} <= names(ONE_WIRE)


def test_no_codes_beyond_the_standards_places() -> None:
    assert sensor_codes(FittedSensor(3, 1, SensorKind.SWITCHING, is_heated=True)) == ()
    assert sensor_codes(FittedSensor(1, 4, SensorKind.SWITCHING, is_heated=True)) == ()


def test_exchanging_takes_two() -> None:
    def found(*sensors: FittedSensor) -> list[str]:
        return [code.code for code in exchanged_codes(frozenset(sensors))]

    assert found(FIRST, SECOND) == []
    assert found(FIRST, SECOND, OTHER_BANK) == ["P0040"]


def test_all_codes_of_a_vehicle() -> None:
    both = codes_on(frozenset({FIRST, OTHER_BANK}))
    assert both == names(FIRST) | names(OTHER_BANK) | {"P0040"}


@pytest.mark.parametrize(
    ("code", "near"),
    [
        ("P0036", {"P0033", "P0034", "P0035", "P0039"}),
        ("P0143", {"P0148", "P0149"}),
        ("P2276", {"P2279"}),
        ("P0133", set()),
        ("P2A00", set()),
    ],
)
def test_strangers_near_a_code(code: str, near: set[str]) -> None:
    assert {each.code for each in strangers_near((FAULT_CODES[code],))} == near


@pytest.mark.parametrize(
    ("code", "pair"),
    [
        ("P0059", ("P0059", "P0060")),
        ("P0060", ("P0059", "P0060")),
        ("P0061", None),
        ("P0139", ("P0139", "P0140")),
        ("P2240", ("P2239", "P2240")),
        ("P0050", None),  # P0049 before it is no sensor's
        ("P013A", None),
    ],
)
def test_where_a_number_steps_over_a_ten(code: str, pair: tuple[str, str] | None) -> None:
    assert decimal_neighbour(FAULT_CODES[code]) == pair
