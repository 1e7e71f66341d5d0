"""What can be behind a symptom, and how likely each cause is.

Every likelihood here is common practice, no source: a place to start from, which a profile may
override for its vehicle.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from generator.trade.fault_code_table import PUMP_CIRCUITS, Circuit, FaultCode, Noticed
from generator.trade.first_checks import Cause


class Symptom(StrEnum):
    """What a fault code or the live data says, in the words of the trade."""

    HEATER_CIRCUIT = "heater-circuit"
    SIGNAL_CIRCUIT = "signal-circuit"
    SHORTED_TO_HEATER = "shorted-to-heater"
    PUMP_CIRCUIT = "pump-circuit"
    SLOW_SIGNAL = "slow-signal"
    IMPLAUSIBLE_SIGNAL = "implausible-signal"
    STUCK_LEAN = "stuck-lean"
    STUCK_LEAN_AFTER_EXHAUST_WORK = "stuck-lean-after-exhaust-work"
    STUCK_RICH = "stuck-rich"
    SENSORS_SWAPPED = "sensors-swapped"
    CATALYST_EFFICIENCY = "catalyst-efficiency"


def _causes(**weights: float) -> tuple[Cause, ...]:
    return tuple(Cause(name.replace("_", "-"), weight) for name, weight in weights.items())


DEFAULT_CAUSES: Final[Mapping[Symptom, tuple[Cause, ...]]] = MappingProxyType(
    {
        Symptom.HEATER_CIRCUIT: _causes(
            heater_open=60, heater_shorted=8, connector_or_wiring=16, fuse=10, control_driver=6
        ),
        Symptom.SIGNAL_CIRCUIT: _causes(
            sensor_dead=45, connector_or_wiring=28, heater_not_heating=20, control_unit=7
        ),
        Symptom.SHORTED_TO_HEATER: _causes(connector_or_wiring=55, sensor_dead=45),
        Symptom.PUMP_CIRCUIT: _causes(sensor_dead=50, connector_or_wiring=45, control_unit=5),
        Symptom.SLOW_SIGNAL: _causes(
            sensor_aged=50, sensor_fouled=20, exhaust_leak=15, heater_weak=10, connector_or_wiring=5
        ),
        Symptom.IMPLAUSIBLE_SIGNAL: _causes(
            exhaust_leak=35,
            sensor_aged=30,
            sensor_fouled=15,
            sensor_loose=10,
            connector_or_wiring=10,
        ),
        Symptom.STUCK_LEAN: _causes(
            intake_leak=27,
            exhaust_leak=18,
            sensor_loose=7,
            low_fuel_pressure=15,
            air_meter=10,
            sensor_aged=18,
            connector_or_wiring=5,
        ),
        Symptom.STUCK_LEAN_AFTER_EXHAUST_WORK: _causes(
            sensor_loose=40, exhaust_leak=40, connector_or_wiring=12, sensor_damaged=8
        ),
        Symptom.STUCK_RICH: _causes(
            fuel_pressure_or_injector=30,
            purge_valve=15,
            air_meter=15,
            sensor_fouled=25,
            connector_or_wiring=15,
        ),
        Symptom.SENSORS_SWAPPED: _causes(connectors_exchanged=92, connector_or_wiring=8),
        Symptom.CATALYST_EFFICIENCY: _causes(
            catalyst_worn=48, exhaust_leak=22, misfire_or_mixture=18, sensor_aged=12
        ),
    }
)
"""Per cent to start from, all common practice, no source; a profile may override them."""

HEATER_CAUSES: Final = frozenset(
    {"heater-open", "heater-shorted", "heater-not-heating", "heater-weak"}
)
"""Causes that only a sensor with a heater can have."""

CURED_BY_A_NEW_SENSOR: Final = HEATER_CAUSES | {
    "sensor-dead",
    "sensor-aged",
    "sensor-fouled",
    "sensor-loose",
    "sensor-damaged",
}
"""Causes that go away with a new sensor, if only for a while: what fouled one fouls the next."""


def causes_of(symptom: Symptom, stated: Iterable[Cause] = ()) -> tuple[Cause, ...]:
    """Give the causes of a symptom with their weights, a vehicle's own in place of the defaults.

    A cause that is not stated keeps its default; one stated with no weight is left out.
    """
    own = {cause.name: cause for cause in stated}
    causes = (own.get(cause.name, cause) for cause in DEFAULT_CAUSES[symptom])
    return tuple(cause for cause in causes if cause.likelihood > 0)


_SIGNAL_FAULTS: Final = frozenset(
    {Noticed.FAULT, Noticed.OPEN, Noticed.LOW, Noticed.HIGH, Noticed.NO_ACTIVITY}
)
_STUCK: Final = frozenset({Noticed.STUCK_LEAN, Noticed.STUCK_RICH})
_NOTICED: Final[Mapping[Noticed, Symptom]] = {
    Noticed.EXCHANGED: Symptom.SENSORS_SWAPPED,
    Noticed.LOW_EFFICIENCY: Symptom.CATALYST_EFFICIENCY,
    Noticed.SHORTED_TO_HEATER: Symptom.SHORTED_TO_HEATER,
    Noticed.SLOW_RESPONSE: Symptom.SLOW_SIGNAL,
    Noticed.SLOW_RICH_TO_LEAN: Symptom.SLOW_SIGNAL,
    Noticed.SLOW_LEAN_TO_RICH: Symptom.SLOW_SIGNAL,
    Noticed.LATE_RICH_TO_LEAN: Symptom.SLOW_SIGNAL,
    Noticed.LATE_LEAN_TO_RICH: Symptom.SLOW_SIGNAL,
    Noticed.OUT_OF_RANGE_ON_OVERRUN: Symptom.IMPLAUSIBLE_SIGNAL,
    Noticed.EXHAUST_SAMPLE: Symptom.IMPLAUSIBLE_SIGNAL,
    Noticed.STUCK_LEAN: Symptom.STUCK_LEAN,
    Noticed.LEAN: Symptom.STUCK_LEAN,
    Noticed.LEAN_AT_IDLE: Symptom.STUCK_LEAN,
    Noticed.LEAN_OFF_IDLE: Symptom.STUCK_LEAN,
    Noticed.STUCK_RICH: Symptom.STUCK_RICH,
    Noticed.RICH: Symptom.STUCK_RICH,
    Noticed.RICH_AT_IDLE: Symptom.STUCK_RICH,
    Noticed.RICH_OFF_IDLE: Symptom.STUCK_RICH,
}
_CIRCUITS: Final[Mapping[Circuit, Symptom]] = {
    Circuit.HEATER: Symptom.HEATER_CIRCUIT,
    Circuit.HEATER_CONTROL: Symptom.HEATER_CIRCUIT,
    **dict.fromkeys(PUMP_CIRCUITS, Symptom.PUMP_CIRCUIT),
}


def symptom_of(code: FaultCode) -> Symptom | None:
    """Give the symptom a fault code reports, or None where no causes are listed for it.

    What was noticed outranks the circuit. After a catalyst, a signal stuck lean or rich says
    more of the sensor than of the mixture, which the sensor before it would have put right
    (common practice, no source). That there was work on the exhaust just before, only the reader
    knows.
    """
    if code.noticed in _STUCK and code.position is not None and code.position > 1:
        return Symptom.IMPLAUSIBLE_SIGNAL
    if code.circuit is Circuit.SIGNAL:
        if code.noticed in _SIGNAL_FAULTS:
            return Symptom.SIGNAL_CIRCUIT
        if code.noticed is Noticed.PERFORMANCE:
            return Symptom.IMPLAUSIBLE_SIGNAL
    if code.noticed is not None and code.noticed in _NOTICED:
        return _NOTICED[code.noticed]
    return _CIRCUITS.get(code.circuit) if code.circuit else None
