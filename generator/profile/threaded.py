"""The threaded parts of a profile: its sensors and the fasteners in their way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from generator.profile.fields import Thread
from generator.profile.finding import Path
from generator.profile.model import Profile
from generator.profile.quantity import Length, Torque
from generator.trade.sensor_threads import sensor_thread
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

    @property
    def strange_torque(self) -> tuple[Torque, TorqueBand] | None:
        """Its torque and the ordinary ones, if a torque is stated that is not among them."""
        band = self.band if self.torque else None
        if self.torque is None or band is None:
            return None
        ordinary = band.holds(self.torque.low_nm, self.torque.high_nm)
        return None if ordinary else (self.torque, band)


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


@lru_cache(maxsize=256)
def _made(diameter_mm: float, pitch_mm: float | None) -> MetricThread | None:
    if pitch_mm is None:
        return coarse_thread(diameter_mm)
    return MetricThread(diameter_mm, pitch_mm) if is_made(diameter_mm, pitch_mm) else None
