"""What follows from a vehicle's values, in words: the data file's computed part, for people."""

from __future__ import annotations

from collections.abc import Iterator

from generator.guide import figures
from generator.guide.heater_view import REACH_C, shown_by_degree
from generator.guide.job import plan_parts
from generator.guide.torque_view import ADAPTER_LENGTHS_MM, WRENCH_LENGTHS_MM
from generator.guide.vehicle import Vehicle, torque_range
from generator.profile.sensor_model import Sensor
from generator.site.data_files import computed_of
from generator.site.data_format import ComputedSensor
from generator.trade.torque import TorqueUnit, adapter_range

AIR_C = (-20, 20, 50)
"""The temperatures of the air at which a heater's range is told: the ends, and the usual one."""

_OFFSET_MM, _LEVER_MM = ADAPTER_LENGTHS_MM[1], WRENCH_LENGTHS_MM[1]


def computed_values(vehicle: Vehicle) -> dict[str, str]:
    """What is computed for each sensor, as its pages print it, by what it is; nothing is empty."""
    parts, told = plan_parts(vehicle), vehicle.t.gettext("bank %(bank)s, position %(position)s")
    return {
        f"{told % {'bank': sensor.bank, 'position': sensor.position}}: {what}": value
        for sensor in vehicle.sensors
        for what, value in _of_sensor(vehicle, sensor, computed_of(sensor, parts))
        if value
    }


def _of_sensor(
    vehicle: Vehicle, sensor: Sensor, computed: ComputedSensor
) -> Iterator[tuple[str, str]]:
    t, _ = vehicle.t, vehicle.t.gettext
    yield from _of_heater(vehicle, sensor, computed)
    if sensor.torque:
        stated = torque_range(sensor.torque)
        for unit in TorqueUnit:
            yield _("torque in %(unit)s") % {"unit": unit.value}, figures.torque(stated, unit, t)
        setting = adapter_range(stated, _LEVER_MM, _OFFSET_MM)
        said = _("wrench setting in N·m with an adapter (L %(lever)s mm, E %(offset)s mm)")
        yield (
            said % {"lever": _LEVER_MM, "offset": _OFFSET_MM},
            figures.torque(setting, TorqueUnit.NEWTON_METRE, t),
        )
    yield _("off, in order"), ", ".join(computed.off_in_order)
    if computed.job_minutes_low is not None and computed.job_minutes_high is not None:
        low, high = computed.job_minutes_low, computed.job_minutes_high
        minutes = figures.span(figures.short(low, t), figures.short(high, t), t)
        yield _("minutes of the job"), minutes
    yield _("not timed"), ", ".join(computed.untimed)


def _of_heater(
    vehicle: Vehicle, sensor: Sensor, computed: ComputedSensor
) -> Iterator[tuple[str, str]]:
    heater = vehicle.heater(sensor)
    if heater is None:
        return
    t, _ = vehicle.t, vehicle.t.gettext
    basis = _("what is specified") if heater.specified else _("a rule of thumb")
    if heater.measured:
        basis = _("readings of sensors known to work")
    yield _("heater judged by"), basis
    stated = sensor.cold_resistance
    step_ohm = figures.stated_step_ohm(stated.value) if stated else None
    shown = shown_by_degree(heater, step_ohm, t)
    for air_c in AIR_C:
        what = _("cold heater in Ω at %(air)s °C") % {"air": figures.number(air_c, 0, t)}
        yield what, shown[air_c - REACH_C[0]]
    low_a, high_a = computed.heater_first_current_low_a, computed.heater_first_current_high_a
    if low_a is None or high_a is None:
        return
    current = figures.span(figures.number(low_a, 1, t), figures.number(high_a, 1, t), t)
    fuse = vehicle.profile.fuses[sensor.fuse] if sensor.fuse else None
    yield (
        _("first current of the heater, and its fuse"),
        f"{current} A; {fuse.rating.value.text if fuse else _('fuse not stated')}",
    )
