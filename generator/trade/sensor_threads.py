"""The threads that exhaust sensors are made with, their hexes and the torques ordinary for them.

Everything here is common practice, no source. It is good for one thing: asking whether a value was
typed as it was meant. It never stands in for the vehicle's own torque.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from generator.trade.hex_sizes import TOLERANCE_MM
from generator.trade.threads import MetricThread
from generator.trade.tightening import TorqueBand

_BASIS: Final = "common practice, no source"


@dataclass(frozen=True, slots=True)
class SensorThread:
    """A thread that sensors have, with the hexes seen on it and the torques ordinary for it.

    `hexes` are the sizes as they are called, `hexes_mm` in millimetres; both are empty where
    sensors with that thread come with too many hexes to name a typical one.
    """

    thread: MetricThread
    hexes: tuple[str, ...]
    hexes_mm: tuple[float, ...]
    torque: TorqueBand

    def has_hex(self, across_flats_mm: float) -> bool:
        """Whether a hex is a typical one; where none is known, whether it clears the thread."""
        if not self.hexes_mm:
            return across_flats_mm > self.thread.diameter_mm
        return any(abs(each - across_flats_mm) <= TOLERANCE_MM for each in self.hexes_mm)


SENSOR_THREADS: Final = (
    SensorThread(
        MetricThread(18, 1.5), ("22 mm", "7/8 in"), (22.0, 22.225), TorqueBand(35.0, 60.0, _BASIS)
    ),
    SensorThread(MetricThread(12, 1.25), (), (), TorqueBand(15.0, 30.0, _BASIS)),
)
"""M18x1.5 is by far the commonest, some are M12x1.25."""

ANY_SENSOR_TORQUE: Final = TorqueBand(
    min(each.torque.low_nm for each in SENSOR_THREADS),
    max(each.torque.high_nm for each in SENSOR_THREADS),
    f"{' or '.join(str(each.thread) for each in SENSOR_THREADS)}, {_BASIS}",
)
"""The torques that are ordinary for one thread or another, and what lies between them."""


def sensor_thread(diameter_mm: float, pitch_mm: float | None = None) -> SensorThread | None:
    """The known sensor thread of a diameter, and of a pitch where one is stated."""
    for known in SENSOR_THREADS:
        if known.thread.diameter_mm == diameter_mm and pitch_mm in (None, known.thread.pitch_mm):
            return known
    return None
