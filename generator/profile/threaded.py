"""The threaded parts of a profile: its sensors and the fasteners in their way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from generator.profile.dimension import Length, Torque
from generator.profile.fields import Thread
from generator.profile.finding import Path
from generator.profile.model import Profile
from generator.trade.sensor_threads import ANY_SENSOR_TORQUE, sensor_thread
from generator.trade.threads import MetricThread, coarse_thread, is_made
from generator.trade.tightening import TorqueBand, fastener_band


@dataclass(frozen=True, slots=True)
class Threaded:
    """One threaded part: where it stands in the profile and what is stated of it."""

    path: Path
    stated: Thread
    hex: Length | None
    torque: Torque | None
    is_sensor: bool

    @property
    def thread(self) -> MetricThread | None:
        """Its thread, the coarse one where no pitch is stated; None unless it is made."""
        return _made(self.stated.diameter_mm, self.stated.pitch_mm)

    @property
    def band(self) -> TorqueBand | None:
        """The torques ordinary for it; None where nothing is known of its thread."""
        if self.is_sensor:
            known = sensor_thread(self.stated.diameter_mm, self.stated.pitch_mm)
            return known.torque if known else None
        thread = self.thread
        return fastener_band(thread) if thread else None


@dataclass(frozen=True, slots=True)
class StrangeTorque:
    """A stated torque that is not among the ordinary ones: where it stands, and those."""

    path: Path
    torque: Torque
    band: TorqueBand
    thread: Thread | None

    def __str__(self) -> str:
        how = "less" if self.torque.low_nm < self.band.low_nm else "more"
        of = self.thread.text if self.thread else "a sensor whose thread is not stated"
        return (
            f"`{self.torque.text}` is {how} than is ordinary for {of}: "
            f"{self.band.low_nm:.3g} to {self.band.high_nm:.3g} N·m ({self.band.basis})."
        )


def threaded(profile: Profile) -> Iterator[Threaded]:
    """Every part of a profile that states its thread."""
    for name, obstacle in profile.obstacles.items():
        for index, fastener in enumerate(obstacle.undo):
            if fastener.thread:
                torque = fastener.torque.value if fastener.torque else None
                path: Path = ("obstacles", name, "undo", index)
                yield Threaded(path, fastener.thread, fastener.hex, torque, is_sensor=False)
    for index, sensor in enumerate(profile.sensors):
        if sensor.thread:
            torque = sensor.torque.value if sensor.torque else None
            path = ("sensors", index)
            yield Threaded(path, sensor.thread, sensor.hex, torque, is_sensor=True)


def strange_torques(profile: Profile) -> Iterator[StrangeTorque]:
    """Every torque that is not ordinary for its part.

    A fastener of unknown thread may be anything; a sensor has one of few threads, so that it is
    held against all of them.
    """
    for path, torque, band, thread in _held(profile):
        if not band.holds(torque.low_nm, torque.high_nm):
            yield StrangeTorque((*path, "torque", "value"), torque, band, thread)


def _held(profile: Profile) -> Iterator[tuple[Path, Torque, TorqueBand, Thread | None]]:
    for part in threaded(profile):
        if part.torque and part.band:
            yield part.path, part.torque, part.band, part.stated
    for index, sensor in enumerate(profile.sensors):
        if sensor.torque and sensor.thread is None:
            yield ("sensors", index), sensor.torque.value, ANY_SENSOR_TORQUE, None


@lru_cache(maxsize=256)
def _made(diameter_mm: float, pitch_mm: float | None) -> MetricThread | None:
    if pitch_mm is None:
        return coarse_thread(diameter_mm)
    return MetricThread(diameter_mm, pitch_mm) if is_made(diameter_mm, pitch_mm) else None
