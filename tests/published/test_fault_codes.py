"""Fault codes against SAE J2012 / ISO 15031-6 numbering, as republished; rows in codes.yml."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.trade.fault_codes import (
    FAULT_CODES,
    Circuit,
    FaultCode,
    Noticed,
    OtherPart,
    Subject,
    Unknown,
    location,
    look_up,
    packed,
    unpacked,
)

FACTS: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "codes.yml").read_text("utf-8"))

SENSOR_MEANINGS: dict[str, tuple[Circuit, Noticed]] = {
    "heater_control_circuit": (Circuit.HEATER_CONTROL, Noticed.FAULT_OR_OPEN),
    "heater_control_low": (Circuit.HEATER_CONTROL, Noticed.LOW),
    "heater_control_high": (Circuit.HEATER_CONTROL, Noticed.HIGH),
    "heater_resistance": (Circuit.HEATER, Noticed.RESISTANCE),
    "heater_circuit": (Circuit.HEATER, Noticed.FAULT),
    "signal_circuit": (Circuit.SIGNAL, Noticed.FAULT),
    "signal_low": (Circuit.SIGNAL, Noticed.LOW),
    "signal_high": (Circuit.SIGNAL, Noticed.HIGH),
    "slow_response": (Circuit.SIGNAL, Noticed.SLOW_RESPONSE),
    "no_activity": (Circuit.SIGNAL, Noticed.NO_ACTIVITY),
    "slow_rich_to_lean": (Circuit.SIGNAL, Noticed.SLOW_RICH_TO_LEAN),
    "slow_lean_to_rich": (Circuit.SIGNAL, Noticed.SLOW_LEAN_TO_RICH),
    "delayed_rich_to_lean": (Circuit.SIGNAL, Noticed.LATE_RICH_TO_LEAN),
    "delayed_lean_to_rich": (Circuit.SIGNAL, Noticed.LATE_LEAN_TO_RICH),
    "stuck_lean": (Circuit.SIGNAL, Noticed.STUCK_LEAN),
    "stuck_rich": (Circuit.SIGNAL, Noticed.STUCK_RICH),
    "signal_shorted_to_heater": (Circuit.SIGNAL, Noticed.SHORTED_TO_HEATER),
    "range_performance": (Circuit.SIGNAL, Noticed.PERFORMANCE),
    "out_of_range_deceleration": (Circuit.SIGNAL, Noticed.OUT_OF_RANGE_ON_OVERRUN),
    "exhaust_sample_error": (Circuit.SIGNAL, Noticed.EXHAUST_SAMPLE),
    "positive_current_open": (Circuit.PUMP_CURRENT_POSITIVE, Noticed.OPEN),
    "positive_current_low": (Circuit.PUMP_CURRENT_POSITIVE, Noticed.LOW),
    "positive_current_high": (Circuit.PUMP_CURRENT_POSITIVE, Noticed.HIGH),
    "negative_current_open": (Circuit.PUMP_CURRENT_NEGATIVE, Noticed.OPEN),
    "negative_current_low": (Circuit.PUMP_CURRENT_NEGATIVE, Noticed.LOW),
    "negative_current_high": (Circuit.PUMP_CURRENT_NEGATIVE, Noticed.HIGH),
    "trim_current_open": (Circuit.PUMP_CURRENT_TRIM, Noticed.OPEN),
    "trim_current_low": (Circuit.PUMP_CURRENT_TRIM, Noticed.LOW),
    "trim_current_high": (Circuit.PUMP_CURRENT_TRIM, Noticed.HIGH),
    "reference_open": (Circuit.REFERENCE, Noticed.OPEN),
    "reference_performance": (Circuit.REFERENCE, Noticed.PERFORMANCE),
    "reference_low": (Circuit.REFERENCE, Noticed.LOW),
    "reference_high": (Circuit.REFERENCE, Noticed.HIGH),
}
BANK_MEANINGS: dict[str, tuple[Subject, Noticed]] = {
    "mixture_lean": (Subject.FUEL_TRIM, Noticed.LEAN),
    "mixture_rich": (Subject.FUEL_TRIM, Noticed.RICH),
    "catalyst_efficiency": (Subject.CATALYST, Noticed.LOW_EFFICIENCY),
    "fuel_trim": (Subject.FUEL_TRIM, Noticed.FAULT),
    "post_cat_lean": (Subject.FUEL_TRIM, Noticed.LEAN_AFTER_CATALYST),
    "post_cat_rich": (Subject.FUEL_TRIM, Noticed.RICH_AFTER_CATALYST),
    "lean_off_idle": (Subject.FUEL_TRIM, Noticed.LEAN_OFF_IDLE),
    "rich_off_idle": (Subject.FUEL_TRIM, Noticed.RICH_OFF_IDLE),
    "lean_idle": (Subject.FUEL_TRIM, Noticed.LEAN_AT_IDLE),
    "rich_idle": (Subject.FUEL_TRIM, Noticed.RICH_AT_IDLE),
}
OTHER_PARTS = {
    "turbo bypass valve": OtherPart.TURBO_BYPASS,
    "boost control": OtherPart.BOOST_CONTROL,
    "turbine overspeed": OtherPart.TURBINE_SPEED,
    "fuel delivery": OtherPart.FUEL_DELIVERY,
    "fuel timing": OtherPart.FUEL_TIMING,
    "secondary air control": OtherPart.SECONDARY_AIR,
    "intake air leak": OtherPart.INTAKE_LEAK,
    "evaporative switching valve": OtherPart.EVAPORATIVE,
}

OXYGEN = [
    (subject, code, *place)
    for subject, rows in FACTS["oxygen_sensor_codes"]["subjects"].items()
    for code, place in rows.items()
]
RELATED = [
    (subject, code, bank)
    for subject, rows in FACTS["related_codes"]["subjects"].items()
    for code, bank in rows.items()
]
NOT_A_SENSOR: dict[str, str] = FACTS["inside_the_ranges_but_not_oxygen_sensor"]["codes"]


def found(code: str) -> FaultCode:
    result = look_up(code)
    assert isinstance(result, FaultCode)
    return result


@pytest.mark.parametrize(
    ("subject", "code", "bank", "position"), [r for r in OXYGEN if r[0] in SENSOR_MEANINGS]
)
def test_every_published_sensor_code(subject: str, code: str, bank: int, position: int) -> None:
    row = found(code)
    assert (row.subject, row.circuit, row.noticed) == (Subject.SENSOR, *SENSOR_MEANINGS[subject])
    assert (row.bank, row.position) == (bank, position)
    assert location(code) == ((bank, position),)


@pytest.mark.parametrize(
    ("subject", "code", "bank"),
    [row[:3] for row in OXYGEN if row[0] in BANK_MEANINGS] + RELATED,
)
def test_every_published_code_about_a_bank(subject: str, code: str, bank: int) -> None:
    row = found(code)
    assert (row.subject, row.noticed) == BANK_MEANINGS[subject]
    assert (row.bank, row.position, row.sensors) == (bank, None, ())


@pytest.mark.parametrize(
    ("code", "position"), [(r[1], r[3]) for r in OXYGEN if r[0] == "sensors_swapped_banks"]
)
def test_published_codes_for_sensors_exchanged_between_banks(code: str, position: int) -> None:
    assert found(code).subject is Subject.SWAPPED
    assert location(code) == ((1, position), (2, position))


@pytest.mark.parametrize(
    ("code", "bank"), [(r[1], r[2]) for r in OXYGEN if r[0] == "sensors_swapped_2_3"]
)
def test_published_codes_for_sensors_exchanged_in_a_bank(code: str, bank: int) -> None:
    assert found(code).subject is Subject.SWAPPED
    assert found(code).bank == bank
    assert location(code) == ((bank, 2), (bank, 3))


@pytest.mark.parametrize(("code", "meaning"), NOT_A_SENSOR.items())
def test_published_codes_between_them_that_are_no_sensor(code: str, meaning: str) -> None:
    part = next(part for start, part in OTHER_PARTS.items() if meaning.startswith(start))
    assert found(code) == FaultCode(code, Subject.FALSE_FRIEND, other_part=part)


def test_the_table_has_the_published_codes_and_no_other() -> None:
    published = {row[1] for row in OXYGEN} | {row[1] for row in RELATED} | set(NOT_A_SENSOR)
    assert set(FAULT_CODES) == published
    assert len(published) == len(OXYGEN) + len(RELATED) + len(NOT_A_SENSOR) == 169


def test_codes_are_counted_in_decimal() -> None:
    trap = FACTS["numbering_trap"]
    places = [location(code) for code in trap["follow_each_other"]]
    assert places == [((2, 1),), ((2, 2),), ((2, 3),)]
    for code in trap["not_by_hexadecimal"]:
        assert look_up(code) == Unknown(code)


@pytest.mark.parametrize(("code", "sent"), FACTS["code_packing"]["hexadecimal"].items())
def test_published_packing(code: str, sent: str) -> None:
    assert packed(code) == bytes.fromhex(sent)
    assert unpacked(bytes.fromhex(sent)) == code
