"""The job on a vehicle as the trade computes with it: its parts, their fasteners, its sensors."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from generator.guide.vehicle import Vehicle, cold_heater, torque_range
from generator.profile.dimension import Duration
from generator.profile.model import Fastener, Obstacle
from generator.profile.sensor_model import Reach, Sensor, ThreadState
from generator.trade.access_plan import Fasteners, Minutes, Part
from generator.trade.hazard import Hazard
from generator.trade.heater import RULE_OF_THUMB
from generator.trade.tools import Held, ObstacleWork, SensorWork
from generator.trade.torque import TorqueRange


def in_planning_order(vehicle: Vehicle) -> list[Sensor]:
    """The sensors in the order in which one gets at them: from above first, from below last.

    So the vehicle is raised once, and what carries load is undone while it stands on its wheels.
    Common practice, no source.
    """
    order = [Reach.ABOVE, Reach.WHEEL_ARCH, Reach.BELOW]
    return sorted(vehicle.sensors, key=lambda each: order.index(each.place.reach))


@lru_cache(maxsize=1)
def plan_parts(vehicle: Vehicle) -> dict[str, Part]:
    """The obstacles and sensors of a vehicle as parts of a plan, by name."""
    parts = {
        name: Part(tuple(each.under), _minutes(each.minutes), tuple(map(_fasteners, each.undo)))
        for name, each in vehicle.profile.obstacles.items()
    }
    for sensor in vehicle.sensors:
        parts[sensor_name(sensor)] = Part(tuple(sensor.behind), _minutes(sensor.minutes))
    return parts


def sensor_name(sensor: Sensor) -> str:
    """A name for a sensor that no obstacle can have: ``B1P2``."""
    return f"B{sensor.bank}P{sensor.position}"


def obstacle_works(vehicle: Vehicle, obstacles: Sequence[Obstacle]) -> list[ObstacleWork]:
    """Taking obstacles off, as the trade computes with it."""
    works = _obstacle_works(vehicle)
    return [works[id(each)] for each in obstacles]


@lru_cache(maxsize=1)
def _obstacle_works(vehicle: Vehicle) -> dict[int, ObstacleWork]:
    return {
        id(each): ObstacleWork(
            name,
            tuple(_held(fastener) for fastener in each.undo),
            # Under a cover alone, a plain socket reaches: common practice, no source
            lies_deep=any(vehicle.profile.obstacles[above].under for above in each.under),
            from_below=Hazard.UNDER_VEHICLE in each.cautions,
        )
        for name, each in vehicle.profile.obstacles.items()
    }


def sensor_works(vehicle: Vehicle, sensors: Iterable[Sensor]) -> list[SensorWork]:
    """Testing sensors and putting them back, as the trade computes with it."""
    works = _sensor_works(vehicle)
    return [works[each.bank, each.position] for each in sensors]


@lru_cache(maxsize=1)
def _sensor_works(vehicle: Vehicle) -> dict[tuple[int, int], SensorWork]:
    return {(each.bank, each.position): sensor_work(each) for each in vehicle.sensors}


def sensor_work(sensor: Sensor) -> SensorWork:
    """Testing a sensor and putting it back, as the trade computes with it."""
    heater = cold_heater(sensor)
    state = sensor.torque.thread_state if sensor.torque else None
    return SensorWork(
        sensor_name(sensor),
        hex_mm=sensor.hex.low_mm if sensor.hex else None,
        torques_nm=_ends_nm(torque_range(sensor.torque)) if sensor.torque else (),
        from_below=sensor.place.reach is Reach.BELOW or Hazard.UNDER_VEHICLE in sensor.cautions,
        heater=(heater.specified or RULE_OF_THUMB) if heater else None,
        takes_anti_seize=state is not ThreadState.DRY,
    )


def _held(fastener: Fastener) -> Held:
    return Held(
        Fasteners(fastener.what, fastener.count),
        fastener.hex.low_mm if fastener.hex else None,
        _ends_nm(torque_range(fastener.torque)) if fastener.torque else (),
        has_thread=fastener.thread is not None,
    )


def _ends_nm(torque: TorqueRange) -> tuple[float, ...]:
    return tuple(dict.fromkeys((torque.low_nm, torque.high_nm)))


def _minutes(stated: Duration | None) -> Minutes | None:
    return Minutes(stated.low_min, stated.high_min) if stated else None


def _fasteners(fastener: Fastener) -> Fasteners:
    return Fasteners(fastener.what, fastener.count)
