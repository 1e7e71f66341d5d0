"""The checks that reveal the causes behind a symptom, and what to check first on one sensor.

Every minute here is common practice, no source, unless the profile states it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from types import MappingProxyType
from typing import Final

from generator.trade.first_checks import (
    Cause,
    Check,
    Habit,
    Plan,
    Search,
    best_plan,
    expected_minutes,
    naive_order,
    replace_at_once_minutes,
)
from generator.trade.likely_causes import (
    CURED_BY_A_NEW_SENSOR,
    HEATER_CAUSES,
    Symptom,
    causes_of,
)

WAY_IN: Final = "way-in"
"""All that is in the way of a sensor and its plug, as one: a profile lists it once for both."""

UNTIMED_OBSTACLE_MIN: Final = 5.0
"""What a thing in the way counts for when the profile gives no time: common practice."""
UNTIMED_SENSOR_MIN: Final = 15.0
"""What unscrewing a sensor counts for when the profile gives no time: common practice."""
PROOF_MIN: Final = 15.0
"""A run that shows whether a new sensor was the cure: common practice."""


class CheckName(StrEnum):
    """A check that reveals causes."""

    LIVE_DATA = "live-data"
    COLD_START = "cold-start"
    FUSE = "fuse"
    HEATER_RESISTANCE = "heater-resistance"
    SUPPLY_LAMP = "supply-lamp"
    HEATER_CONTROL = "heater-control"
    LOOK_AT_WIRING = "look-at-wiring"
    WIGGLE = "wiggle"
    UNPLUG_AND_WATCH = "unplug-and-watch"
    WIRE_THROUGH = "wire-through"
    TIP = "tip"
    SENSOR_TIGHT = "sensor-tight"
    EXHAUST_LEAK = "exhaust-leak"
    INTAKE_LEAK = "intake-leak"
    TRIMS_AND_AIR_METER = "trims-and-air-meter"
    FUEL_PRESSURE = "fuel-pressure"
    PURGE_VALVE = "purge-valve"
    OTHER_CODES = "other-codes"
    BOTH_SIGNALS = "both-signals"


_MINUTES: Final[Mapping[CheckName, float]] = {
    CheckName.LIVE_DATA: 5,
    CheckName.COLD_START: 5,
    CheckName.FUSE: 3,
    CheckName.HEATER_RESISTANCE: 5,
    CheckName.SUPPLY_LAMP: 5,
    CheckName.HEATER_CONTROL: 8,
    CheckName.LOOK_AT_WIRING: 4,
    CheckName.WIGGLE: 5,
    CheckName.UNPLUG_AND_WATCH: 6,
    CheckName.WIRE_THROUGH: 15,
    CheckName.TIP: 20,
    CheckName.SENSOR_TIGHT: 2,
    CheckName.EXHAUST_LEAK: 10,
    CheckName.INTAKE_LEAK: 10,
    CheckName.TRIMS_AND_AIR_METER: 5,
    CheckName.FUEL_PRESSURE: 20,
    CheckName.PURGE_VALVE: 5,
    CheckName.OTHER_CODES: 2,
    # With the drive that makes the catalyst hot
    CheckName.BOTH_SIGNALS: 25,
}
_AT_THE_SENSOR: Final = frozenset(
    {
        CheckName.HEATER_RESISTANCE,
        CheckName.SUPPLY_LAMP,
        CheckName.HEATER_CONTROL,
        CheckName.LOOK_AT_WIRING,
        CheckName.WIGGLE,
        CheckName.UNPLUG_AND_WATCH,
        CheckName.WIRE_THROUGH,
        CheckName.TIP,
        CheckName.SENSOR_TIGHT,
    }
)
"""Checks at the sensor or its plug, so behind what is in the way; the others need no way in."""


def _check(name: CheckName, *reveals: str) -> Check:
    access = frozenset({WAY_IN}) if name in _AT_THE_SENSOR else frozenset[str]()
    return Check(name, _MINUTES[name], frozenset(reveals), access)


_WIGGLE: Final = _check(CheckName.WIGGLE, "connector-or-wiring")
_LOOK: Final = _check(CheckName.LOOK_AT_WIRING, "connector-or-wiring")
_UNPLUG: Final = _check(CheckName.UNPLUG_AND_WATCH, "sensor-dead")
_WIRES: Final = _check(CheckName.WIRE_THROUGH, "connector-or-wiring", "control-unit")
_SMOKE: Final = _check(CheckName.EXHAUST_LEAK, "exhaust-leak", "sensor-loose")
_AGED: Final = _check(CheckName.LIVE_DATA, "sensor-aged")
_TIP: Final = _check(CheckName.TIP, "sensor-fouled")
_AIR: Final = _check(CheckName.TRIMS_AND_AIR_METER, "air-meter")

DEFAULT_CHECKS: Final[Mapping[Symptom, tuple[Check, ...]]] = MappingProxyType(
    {
        Symptom.HEATER_CIRCUIT: (
            _check(CheckName.FUSE, "fuse"),
            _check(CheckName.HEATER_RESISTANCE, "heater-open", "heater-shorted"),
            _check(CheckName.SUPPLY_LAMP, "fuse", "connector-or-wiring"),
            _check(CheckName.HEATER_CONTROL, "control-driver"),
        ),
        Symptom.SIGNAL_CIRCUIT: (
            _check(CheckName.COLD_START, "heater-not-heating"),
            _UNPLUG,
            _check(CheckName.HEATER_RESISTANCE, "heater-not-heating"),
            _WIGGLE,
            _WIRES,
        ),
        Symptom.SHORTED_TO_HEATER: (_LOOK, _UNPLUG),
        Symptom.PUMP_CIRCUIT: (_UNPLUG, _WIGGLE, _WIRES),
        Symptom.SLOW_SIGNAL: (
            _AGED,
            _check(CheckName.EXHAUST_LEAK, "exhaust-leak"),
            _check(CheckName.HEATER_RESISTANCE, "heater-weak"),
            _WIGGLE,
            _TIP,
        ),
        Symptom.IMPLAUSIBLE_SIGNAL: (
            _AGED,
            _SMOKE,
            _check(CheckName.SENSOR_TIGHT, "sensor-loose"),
            _WIGGLE,
            _TIP,
        ),
        Symptom.STUCK_LEAN: (
            _AGED,
            _AIR,
            _check(CheckName.INTAKE_LEAK, "intake-leak"),
            _SMOKE,
            _check(CheckName.FUEL_PRESSURE, "low-fuel-pressure"),
            _WIGGLE,
        ),
        Symptom.STUCK_LEAN_AFTER_EXHAUST_WORK: (
            _check(CheckName.SENSOR_TIGHT, "sensor-loose"),
            _SMOKE,
            _LOOK,
            _check(CheckName.LIVE_DATA, "sensor-damaged"),
        ),
        Symptom.STUCK_RICH: (
            _AIR,
            _check(CheckName.PURGE_VALVE, "purge-valve"),
            _check(CheckName.FUEL_PRESSURE, "fuel-pressure-or-injector"),
            _TIP,
            _WIGGLE,
        ),
        Symptom.SENSORS_SWAPPED: (
            _check(CheckName.UNPLUG_AND_WATCH, "connectors-exchanged"),
            _check(CheckName.LOOK_AT_WIRING, "connectors-exchanged", "connector-or-wiring"),
        ),
        Symptom.CATALYST_EFFICIENCY: (
            _check(CheckName.OTHER_CODES, "misfire-or-mixture"),
            _AGED,
            _check(CheckName.EXHAUST_LEAK, "exhaust-leak"),
            _check(CheckName.BOTH_SIGNALS, "catalyst-worn"),
        ),
    }
)
"""The checks that make sense for each symptom, and what each reveals: common practice, no source.

Few on purpose, six at most: the exact order is computed for every sensor of every vehicle.
"""


@dataclass(frozen=True, eq=False, slots=True)
class FirstChecks:
    """The best order of the checks, and what two other ways of going about it would take.

    All minutes are means over the causes. `quickest_first_minutes` is for the quickest check
    first, whatever it takes to get there. Two of them are equal only if they are the same object:
    they are computed once, and compared as keys.
    """

    plan: Plan
    quickest_first_minutes: float
    _new_sensor_before_fitting_minutes: float

    def new_sensor_minutes(self, fitting_minutes: float) -> float:
        """Give the mean minutes of a new sensor at once, and the best order if that was not it.

        `fitting_minutes` takes the old sensor out and puts the new one in; the way in and a run
        that proves it are counted besides.
        """
        return self._new_sensor_before_fitting_minutes + fitting_minutes


def search_for(
    symptom: Symptom, way_in_minutes: float, is_heated: bool, stated: Iterable[Cause] = ()
) -> Search:
    """Give the search for the cause of a symptom on one sensor, with its default checks.

    Without a heater, its causes and what only reveals them are left out. Raises ValueError: no
    cause is left, negative minutes.
    """
    causes = tuple(
        cause
        for cause in causes_of(symptom, stated)
        if is_heated or cause.name not in HEATER_CAUSES
    )
    names = frozenset(cause.name for cause in causes)
    checks = tuple(
        Check(check.name, check.minutes, check.reveals & names, check.access)
        for check in DEFAULT_CHECKS[symptom]
        if check.reveals & names
    )
    return Search(causes, checks, {WAY_IN: way_in_minutes})


@lru_cache(maxsize=4096)
def first_checks_for(
    symptom: Symptom,
    way_in_minutes: float,
    is_heated: bool = True,
    stated: tuple[Cause, ...] = (),
) -> FirstChecks:
    """Give what to check first for a symptom on one sensor; computed once for the same answers.

    `way_in_minutes` clears everything in the way, `stated` are the vehicle's own likelihoods.
    Common practice, no source, but for what is stated. Raises ValueError as `search_for` does.
    """
    search = search_for(symptom, way_in_minutes, is_heated, stated)
    # Fitting is in every one of its searches, so its minutes add up: they can be left for later
    return FirstChecks(
        best_plan(search),
        expected_minutes(search, _quickest_first(search)),
        replace_at_once_minutes(search, new_sensor(search, fitting_minutes=0)),
    )


def new_sensor(search: Search, fitting_minutes: float) -> Check:
    """Give a new sensor as if it were a check: it reveals what it cures, after a proving run."""
    cured = CURED_BY_A_NEW_SENSOR & {cause.name for cause in search.causes}
    return Check("new-sensor", fitting_minutes + PROOF_MIN, cured, frozenset({WAY_IN}))


def _quickest_first(search: Search) -> tuple[Check, ...]:
    """Quickest first, without checks whose causes were all ruled out before: nobody does those."""
    kept: list[Check] = []
    ruled_out = frozenset[str]()
    for check in naive_order(search, Habit.QUICKEST_FIRST):
        if not check.reveals <= ruled_out:
            kept.append(check)
            ruled_out |= check.reveals
    return tuple(kept)
