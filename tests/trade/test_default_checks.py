"""The default checks: enough of them, few of them, and their order against every order."""

from __future__ import annotations

from itertools import permutations

import pytest

from generator.trade.default_checks import (
    DEFAULT_CHECKS,
    PROOF_MIN,
    WAY_IN,
    CheckName,
    first_checks_for,
    new_sensor,
    search_for,
)
from generator.trade.first_checks import (
    Cause,
    Check,
    Search,
    replace_at_once_minutes,
)
from generator.trade.likely_causes import DEFAULT_CAUSES, HEATER_CAUSES, Symptom

WAYS_IN_MIN = [0, 4, 22, 45]


@pytest.mark.parametrize("symptom", Symptom)
def test_every_cause_is_revealed_and_nothing_else(symptom: Symptom) -> None:
    revealed = frozenset().union(*(check.reveals for check in DEFAULT_CHECKS[symptom]))
    assert revealed == {cause.name for cause in DEFAULT_CAUSES[symptom]}
    assert len(DEFAULT_CHECKS[symptom]) <= 6, "few, because every sensor has its own order"


def test_every_check_is_used_and_known_by_name() -> None:
    used = {CheckName(check.name) for checks in DEFAULT_CHECKS.values() for check in checks}
    assert used == set(CheckName)


def minutes_until_found(search: Search, order: tuple[Check, ...], cause: str) -> float:
    """Walk one search, told which cause it is; written without the module under test."""
    spent, is_open = 0.0, False
    for check in order:
        if check.access and not is_open:
            spent += search.access_minutes[WAY_IN]
            is_open = True
        spent += check.minutes
        if cause in check.reveals:
            break
    return spent


def mean_minutes(search: Search, order: tuple[Check, ...]) -> float:
    total = sum(cause.likelihood for cause in search.causes)
    return sum(
        cause.likelihood * minutes_until_found(search, order, cause.name) / total
        for cause in search.causes
    )


@pytest.mark.parametrize("way_in_minutes", WAYS_IN_MIN)
@pytest.mark.parametrize("symptom", Symptom)
def test_no_order_of_the_checks_is_quicker(symptom: Symptom, way_in_minutes: float) -> None:
    found = first_checks_for(symptom, way_in_minutes)
    search = search_for(symptom, way_in_minutes, is_heated=True)
    # Leaving checks out can only help where another reveals the same: so try all part orders too
    every = (
        mean_minutes(search, order)
        for count in range(1, len(search.checks) + 1)
        for order in permutations(search.checks, count)
        if frozenset().union(*(c.reveals for c in order)) == {c.name for c in search.causes}
    )
    assert found.plan.expected_minutes == pytest.approx(min(every))
    order = tuple(step.check for step in found.plan.steps)
    assert found.plan.expected_minutes == pytest.approx(mean_minutes(search, order))
    assert found.plan.chance_unrevealed == pytest.approx(0)
    assert found.quickest_first_minutes >= found.plan.expected_minutes - 1e-9


@pytest.mark.parametrize("way_in_minutes", WAYS_IN_MIN)
@pytest.mark.parametrize("symptom", Symptom)
@pytest.mark.parametrize("fitting_minutes", [0, 17, 60])
def test_the_minutes_of_fitting_add_up(
    symptom: Symptom, way_in_minutes: float, fitting_minutes: float
) -> None:
    search = search_for(symptom, way_in_minutes, is_heated=True)
    whole = replace_at_once_minutes(search, new_sensor(search, fitting_minutes))
    found = first_checks_for(symptom, way_in_minutes)
    assert found.new_sensor_minutes(fitting_minutes) == pytest.approx(whole)
    assert whole >= way_in_minutes + fitting_minutes + PROOF_MIN


@pytest.mark.parametrize("symptom", [each for each in Symptom if each != Symptom.HEATER_CIRCUIT])
def test_without_a_heater_nobody_measures_one(symptom: Symptom) -> None:
    search = search_for(symptom, 10, is_heated=False)
    assert HEATER_CAUSES.isdisjoint(cause.name for cause in search.causes)
    names = {check.name for check in search.checks}
    assert names.isdisjoint({CheckName.HEATER_RESISTANCE, CheckName.COLD_START, CheckName.FUSE})


def test_the_way_in_turns_the_order_round() -> None:
    near, far = (
        first_checks_for(Symptom.STUCK_LEAN_AFTER_EXHAUST_WORK, way_in).plan.steps[0].check.name
        for way_in in (0, 22)
    )
    assert (near, far) == (CheckName.SENSOR_TIGHT, CheckName.EXHAUST_LEAK)


def test_a_worked_order() -> None:
    # 5 for the heater, 0.32 x 5 for the supply (which sees the fuse too), 0.06 x 8 for the driver
    plan = first_checks_for(Symptom.HEATER_CIRCUIT, 0).plan
    assert [step.check.name for step in plan.steps] == [
        CheckName.HEATER_RESISTANCE,
        CheckName.SUPPLY_LAMP,
        CheckName.HEATER_CONTROL,
    ]
    assert plan.expected_minutes == pytest.approx(5 + 0.32 * 5 + 0.06 * 8)


def test_a_vehicles_own_likelihoods_change_the_order() -> None:
    own = (Cause("fuse", 900.0, "fault book"),)
    found = first_checks_for(Symptom.HEATER_CIRCUIT, 10, stated=own)
    assert found.plan.steps[0].check.name == CheckName.FUSE
    assert first_checks_for(Symptom.HEATER_CIRCUIT, 10).plan.steps[0].check.name != CheckName.FUSE


def test_the_same_question_is_answered_once() -> None:
    one, other = (first_checks_for(Symptom.SLOW_SIGNAL, 13) for _ in range(2))
    assert one is other
