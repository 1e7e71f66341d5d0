"""What follows from a vehicle's values, in words: the data file's computed part, for people."""

from __future__ import annotations

from collections.abc import Iterator

from generator.guide import figures
from generator.guide.heater_view import REACH_C, shown_by_degree
from generator.guide.job import plan_parts
from generator.guide.refit_page import ADAPTER_LENGTHS_MM, WRENCH_LENGTHS_MM
from generator.guide.vehicle import Vehicle, cold_heater, torque_range
from generator.profile.sensor_model import Sensor
from generator.site.data_files import computed_of
from generator.site.data_format import ComputedSensor
from generator.trade.torque import TorqueUnit, adapter_range

AIR_C = (-20, 20, 50)
"""The temperatures of the air at which a heater's range is told: the ends, and the usual one."""

_OFFSET_MM, _LEVER_MM = ADAPTER_LENGTHS_MM[1], WRENCH_LENGTHS_MM[1]


def computed_values(vehicle: Vehicle) -> dict[str, str]:
    """What is computed for each sensor, as its pages print it, by what it is; nothing is empty."""
    parts = plan_parts(vehicle)
    return {
        f"bank {sensor.bank}, position {sensor.position}: {what}": value
        for sensor in vehicle.sensors
        for what, value in _of_sensor(vehicle, sensor, computed_of(sensor, parts))
        if value
    }


def _of_sensor(
    vehicle: Vehicle, sensor: Sensor, computed: ComputedSensor
) -> Iterator[tuple[str, str]]:
    yield from _of_heater(vehicle, sensor, computed)
    for each in computed.torque:
        yield f"torque in {each.unit}", figures.span(each.low, each.high, vehicle.t)
    if sensor.torque:
        setting = adapter_range(torque_range(sensor.torque), _LEVER_MM, _OFFSET_MM)
        yield (
            f"wrench setting in N·m with an adapter (L {_LEVER_MM} mm, E {_OFFSET_MM} mm)",
            figures.torque(setting, TorqueUnit.NEWTON_METRE, vehicle.t),
        )
    yield "off, in order", ", ".join(computed.off_in_order)
    if computed.job_minutes_low is not None and computed.job_minutes_high is not None:
        low, high = computed.job_minutes_low, computed.job_minutes_high
        t = vehicle.t
        yield "minutes of the job", figures.span(figures.short(low, t), figures.short(high, t), t)
    yield "not timed", ", ".join(computed.untimed)


def _of_heater(
    vehicle: Vehicle, sensor: Sensor, computed: ComputedSensor
) -> Iterator[tuple[str, str]]:
    heater = cold_heater(sensor)
    if heater is None:
        return
    yield "heater judged by", (computed.heater_basis or "").replace("-", " ")
    stated, t = sensor.cold_resistance, vehicle.t
    step_ohm = figures.stated_step_ohm(stated.value) if stated else None
    shown = shown_by_degree(heater, step_ohm, t)
    for air_c in AIR_C:
        at = figures.number(air_c, 0, t)
        yield f"cold heater in Ω at {at} °C", shown[air_c - REACH_C[0]]
    low_a, high_a = computed.heater_first_current_low_a, computed.heater_first_current_high_a
    if low_a is None or high_a is None:
        return
    current = figures.span(figures.number(low_a, 1, t), figures.number(high_a, 1, t), t)
    fuse = vehicle.profile.fuses[sensor.fuse] if sensor.fuse else None
    yield (
        "first current of the heater, and its fuse",
        f"{current} A; {fuse.rating.value.text if fuse else 'fuse not stated'}",
    )
