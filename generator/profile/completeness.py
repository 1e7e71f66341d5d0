"""What a profile could still state, of all that a page would show: each with where it would stand.

Nothing here is wrong. What may be left out for good reason is not asked for: a sensor with nothing
in its way, a bank without a side, a wire of unknown size.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from generator.profile.finding import Path
from generator.profile.model import Obstacle, Profile
from generator.profile.sensor_model import Sensor
from generator.trade.sensor import SensorKind


class Lack(StrEnum):
    """A value that is not stated, and that a page waits for."""

    COLD_RESISTANCE = "cold-resistance"
    CONNECTOR = "connector"
    WIRE_COLOURS = "wire-colours"
    FUSE = "fuse"
    CURVE = "curve"
    TORQUE = "torque"
    THREAD_STATE = "thread-state"
    THREAD = "thread"
    HEX = "hex"
    MINUTES = "minutes"
    OBSTACLE_STEPS = "obstacle-steps"
    OBSTACLE_MINUTES = "obstacle-minutes"
    FASTENER_SIZE = "fastener-size"
    FASTENER_TORQUE = "fastener-torque"
    DRIVE_CYCLE = "drive-cycle"
    CHECKED_ON = "checked-on"
    CONFIRMED_BY = "confirmed-by"


@dataclass(frozen=True, slots=True)
class Missing:
    """One value that is not stated: of a sensor, of an obstacle, or of the vehicle as a whole."""

    lack: Lack
    path: Path
    sensor: Sensor | None = None
    obstacle: Obstacle | None = None


def missing(profile: Profile) -> tuple[Missing, ...]:
    """What a profile does not state: sensors by bank and position, obstacles, then the vehicle."""
    return (*_of_sensors(profile), *_of_obstacles(profile), *_of_vehicle(profile))


def _of_sensors(profile: Profile) -> Iterator[Missing]:
    numbered = sorted(enumerate(profile.sensors), key=lambda each: (each[1].bank, each[1].position))
    for index, sensor in numbered:
        at: Path = ("sensors", index)
        for lack, way in _of_sensor(profile, sensor):
            yield Missing(lack, (*at, *way), sensor=sensor)


def _of_sensor(profile: Profile, sensor: Sensor) -> Iterator[tuple[Lack, Path]]:
    if sensor.is_heated and sensor.cold_resistance is None:
        yield Lack.COLD_RESISTANCE, ("heater", "resistance")
    face = profile.connectors.get(sensor.connector.face) if sensor.connector else None
    if face is None:
        yield Lack.CONNECTOR, ("connector",)
    elif any(pin.harness_wire is None or pin.sensor_wire is None for pin in face.pins.values()):
        yield Lack.WIRE_COLOURS, ("connector", "face")
    if sensor.is_heated and sensor.fuse is None:
        yield Lack.FUSE, ("fuse",)
    if sensor.kind is SensorKind.WIDE_RANGE and sensor.curve is None:
        yield Lack.CURVE, ("curve",)
    if sensor.torque is None:
        yield Lack.TORQUE, ("torque",)
    elif sensor.torque.thread_state is None:
        yield Lack.THREAD_STATE, ("torque", "thread_state")
    if sensor.thread is None:
        yield Lack.THREAD, ("thread",)
    if sensor.hex is None:
        yield Lack.HEX, ("hex",)
    if sensor.minutes is None:
        yield Lack.MINUTES, ("minutes",)


def _of_obstacles(profile: Profile) -> Iterator[Missing]:
    for name, obstacle in profile.obstacles.items():
        at: Path = ("obstacles", name)
        if not obstacle.steps:
            yield Missing(Lack.OBSTACLE_STEPS, (*at, "steps"), obstacle=obstacle)
        if obstacle.minutes is None:
            yield Missing(Lack.OBSTACLE_MINUTES, (*at, "minutes"), obstacle=obstacle)
        for index, fastener in enumerate(obstacle.undo):
            if fastener.is_turned and fastener.hex is None:
                path = (*at, "undo", index, "hex")
                yield Missing(Lack.FASTENER_SIZE, path, obstacle=obstacle)
            if fastener.is_turned and fastener.torque is None:
                path = (*at, "undo", index, "torque")
                yield Missing(Lack.FASTENER_TORQUE, path, obstacle=obstacle)


def _of_vehicle(profile: Profile) -> Iterator[Missing]:
    if profile.drive_cycle is None:
        yield Missing(Lack.DRIVE_CYCLE, ("drive_cycle",))
    if profile.guide.checked_on is None:
        yield Missing(Lack.CHECKED_ON, ("guide", "checked_on"))
    if profile.guide.confirmed_by is None:
        yield Missing(Lack.CONFIRMED_BY, ("guide", "confirmed_by"))
