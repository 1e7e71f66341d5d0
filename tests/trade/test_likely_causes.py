"""Causes behind a symptom, and which symptom a code reports."""

from __future__ import annotations

import pytest

from generator.trade.fault_code_table import FAULT_CODES, Subject
from generator.trade.first_checks import COMMON_PRACTICE, Cause, Search
from generator.trade.likely_causes import (
    CURED_BY_A_NEW_SENSOR,
    DEFAULT_CAUSES,
    HEATER_CAUSES,
    Symptom,
    causes_of,
    symptom_of,
)


@pytest.mark.parametrize("symptom", Symptom)
def test_every_symptom_has_causes_marked_as_unsourced(symptom: Symptom) -> None:
    causes = DEFAULT_CAUSES[symptom]
    Search(causes, ())
    assert {cause.source for cause in causes} == {COMMON_PRACTICE}
    assert sum(cause.likelihood for cause in causes) == pytest.approx(100), "read as per cent"


def test_after_exhaust_work_a_leak_or_a_loose_sensor_leads() -> None:
    causes = DEFAULT_CAUSES[Symptom.STUCK_LEAN_AFTER_EXHAUST_WORK]
    likeliest = sorted(causes, key=lambda cause: -cause.likelihood)[:2]
    assert {cause.name for cause in likeliest} == {"sensor-loose", "exhaust-leak"}


def test_special_causes_are_causes() -> None:
    names = {cause.name for causes in DEFAULT_CAUSES.values() for cause in causes}
    assert names > CURED_BY_A_NEW_SENSOR > HEATER_CAUSES


@pytest.mark.parametrize(
    ("code", "symptom"),
    [
        ("P0135", Symptom.HEATER_CIRCUIT),
        ("P0030", Symptom.HEATER_CIRCUIT),
        ("P0053", Symptom.HEATER_CIRCUIT),
        ("P0134", Symptom.SIGNAL_CIRCUIT),
        ("P0133", Symptom.SLOW_SIGNAL),
        ("P2195", Symptom.STUCK_LEAN),
        ("P2270", Symptom.IMPLAUSIBLE_SIGNAL),  # the same, after the catalyst
        ("P2231", Symptom.SHORTED_TO_HEATER),
        ("P2A00", Symptom.IMPLAUSIBLE_SIGNAL),
        ("P2244", Symptom.PUMP_CIRCUIT),  # "not plausible" too, but of the reference
        ("P2414", Symptom.IMPLAUSIBLE_SIGNAL),
        ("P0171", Symptom.STUCK_LEAN),
        ("P2190", Symptom.STUCK_RICH),
        ("P0172", Symptom.STUCK_RICH),
        ("P2237", Symptom.PUMP_CIRCUIT),
        ("P0041", Symptom.SENSORS_SWAPPED),
        ("P0420", Symptom.CATALYST_EFFICIENCY),
        ("P2279", None),
    ],
)
def test_which_causes_belong_to_a_code(code: str, symptom: Symptom | None) -> None:
    assert symptom_of(FAULT_CODES[code]) is symptom


def test_every_code_of_a_sensor_has_causes() -> None:
    about_sensors = {Subject.SENSOR, Subject.SWAPPED}
    without = [
        code.code
        for code in FAULT_CODES.values()
        if code.subject in about_sensors and symptom_of(code) is None
    ]
    assert without == []


def test_a_vehicles_own_likelihoods_stand_in_for_the_defaults() -> None:
    own = [Cause("fuse", 50, "fault book"), Cause("heater-shorted", 0)]
    merged = {cause.name: cause for cause in causes_of(Symptom.HEATER_CIRCUIT, own)}
    assert merged["fuse"] == own[0]
    assert "heater-shorted" not in merged, "no weight, no cause"
    assert merged["heater-open"].likelihood == 60, "what is not stated keeps its own"
