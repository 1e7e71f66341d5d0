"""Which fault codes a vehicle's sensors can set, from the sensors it has."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from generator.trade.fault_code_table import FAULT_CODES, Circuit, FaultCode, Noticed, Subject
from generator.trade.fault_codes import codes_for
from generator.trade.sensor import SensorKind, SensorPlace

_HEATER_CIRCUITS = frozenset({Circuit.HEATER, Circuit.HEATER_CONTROL})


class FittedSensor(NamedTuple):
    """A sensor as far as its codes depend on it."""

    bank: int
    position: int
    kind: SensorKind
    is_heated: bool

    @property
    def place(self) -> SensorPlace:
        """The bank and position that its codes name."""
        return SensorPlace(self.bank, self.position)


@lru_cache(maxsize=512)
def sensor_codes(sensor: FittedSensor) -> tuple[FaultCode, ...]:
    """Give the codes about one sensor alone: without a heater, none about a heater.

    A sensor at a bank or position without codes of its own gives an empty tuple.
    """
    return tuple(
        code
        for code in codes_for(sensor.bank, sensor.position, sensor.kind)
        if code.subject is Subject.SENSOR and (sensor.is_heated or not _about_a_heater(code))
    )


def _about_a_heater(code: FaultCode) -> bool:
    return code.circuit in _HEATER_CIRCUITS or code.noticed is Noticed.SHORTED_TO_HEATER


@lru_cache(maxsize=512)
def exchanged_codes(sensors: frozenset[FittedSensor]) -> tuple[FaultCode, ...]:
    """Give the codes for two exchanged sensors of which the vehicle has both."""
    places = {sensor.place for sensor in sensors}
    return tuple(
        code
        for code in FAULT_CODES.values()
        if code.subject is Subject.SWAPPED and places.issuperset(code.sensors)
    )


@lru_cache(maxsize=512)
def codes_on(sensors: frozenset[FittedSensor]) -> frozenset[str]:
    """Give every code that names a sensor of this vehicle, or two of them exchanged."""
    found = [*exchanged_codes(sensors)]
    for sensor in sensors:
        found += sensor_codes(sensor)
    return frozenset(code.code for code in found)


NEAR_NUMBERS = 6
"""How far the number of another part's code may be from a sensor's to be taken for it: ours."""


@lru_cache(maxsize=2048)
def strangers_near(codes: tuple[FaultCode, ...]) -> tuple[FaultCode, ...]:
    """Give the codes of other parts whose numbers stand next to some sensor codes.

    Codes with letters in their number have no such neighbours in the table.
    """
    numbers = [int(code.code[1:]) for code in codes if code.code[1:].isdigit()]
    return tuple(
        code
        for code in FAULT_CODES.values()
        if code.subject is Subject.FALSE_FRIEND
        and code.code[1:].isdigit()
        and any(abs(int(code.code[1:]) - number) <= NEAR_NUMBERS for number in numbers)
    )


def decimal_neighbour(code: FaultCode) -> tuple[str, str] | None:
    """Give the step over a ten, ("P0059", "P0060"), that a sensor's code stands at, or None.

    Both codes are about sensors: the step shows that the numbers count in decimal there.
    """
    if not code.code[1:].isdigit():
        return None
    number = int(code.code[1:])
    for first in (number, number - 1):
        pair = (f"P{first:04d}", f"P{first + 1:04d}")
        if first % 10 == 9 and all(_is_a_sensors(each) for each in pair):
            return pair
    return None


def _is_a_sensors(code: str) -> bool:
    return code in FAULT_CODES and FAULT_CODES[code].subject is Subject.SENSOR
