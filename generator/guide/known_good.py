"""Readings of sensors known to be good: taken together, and against the rule of thumb."""

from __future__ import annotations

from generator.guide import figures
from generator.profile.sensor_model import KnownGood, Sensor
from generator.trade.heater import RULE_OF_THUMB, Element, ResistanceRange
from generator.trade.pooled_readings import GoodReading, Pool, pooled


def sensor_pool(sensor: Sensor) -> tuple[Pool, int]:
    """The readings of a sensor taken together, and to how many decimals they are known."""
    coarsest_ohm = max(figures.stated_step_ohm(each.resistance) for each in sensor.readings)
    readings = [good_reading(each) for each in sensor.readings]
    pool = pooled(readings, element_of(sensor), coarsest_ohm)
    return pool, figures.decimals_of(coarsest_ohm)


def good_reading(reading: KnownGood) -> GoodReading:
    """A profile's reading as the trade computes with it."""
    zero_ohm = reading.meter_zero.low_ohm if reading.meter_zero else 0.0
    return GoodReading(reading.resistance.low_ohm, reading.air.low_c, zero_ohm)


def element_of(sensor: Sensor) -> Element:
    """What the heater is made of, where it is stated."""
    return sensor.heater.element if sensor.heater else Element.UNKNOWN


def against_rule_of_thumb(sensor: Sensor) -> ResistanceRange | None:
    """Lowest to highest reading at 20 °C where one lies outside the rule of thumb; else None.

    In tenths of an ohm, as the rule of thumb is shown. It counts only without a specification.
    """
    if not sensor.readings:
        return None
    pool, _ = sensor_pool(sensor)
    low_ohm, high_ohm = (round(ohm, 1) for ohm in (pool.kept_ohm[0], pool.kept_ohm[-1]))
    # Both are ohms at 20 °C
    if low_ohm >= RULE_OF_THUMB.low_ohm and high_ohm <= RULE_OF_THUMB.high_ohm:
        return None
    return ResistanceRange(low_ohm, high_ohm)
