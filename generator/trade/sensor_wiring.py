"""How many wires a sensor of each kind has, and what its terminals must and cannot be."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Final

from generator.trade.connector import HEATER_JOBS, PinJob
from generator.trade.sensor import SensorKind


@dataclass(frozen=True, slots=True)
class WireSpan:
    """The fewest and the most wires a sensor has."""

    fewest: int
    most: int


# Common practice, no source.
WIRES: Final[Mapping[SensorKind, WireSpan]] = {
    SensorKind.SWITCHING: WireSpan(1, 4),
    SensorKind.WIDE_RANGE: WireSpan(4, 6),
    SensorKind.TITANIA: WireSpan(3, 4),
}

# Common practice, no source. A wide-range sensor of four wires has no more than its pump and one
# other cell terminal, and those are called by many names; so the pump alone is asked for.
_MEASURING_JOB: Final[Mapping[SensorKind, PinJob]] = {
    SensorKind.SWITCHING: PinJob.SIGNAL,
    SensorKind.WIDE_RANGE: PinJob.PUMP,
    SensorKind.TITANIA: PinJob.SIGNAL,
}
_FOREIGN_JOBS: Final[Mapping[SensorKind, tuple[PinJob, ...]]] = {
    SensorKind.SWITCHING: (PinJob.PUMP, PinJob.PUMP_RETURN, PinJob.TRIM),
    SensorKind.WIDE_RANGE: (PinJob.SIGNAL,),
    SensorKind.TITANIA: (PinJob.PUMP, PinJob.PUMP_RETURN, PinJob.TRIM),
}


def missing_jobs(
    kind: SensorKind, jobs: Collection[PinJob], *, is_heated: bool
) -> tuple[PinJob, ...]:
    """The terminals a sensor of a kind cannot do without that its connector has not.

    One end of the heater without the other is a fault of the connector itself, and not named here.
    """
    needed = [_MEASURING_JOB[kind]]
    if is_heated and not any(job in jobs for job in HEATER_JOBS):
        needed.extend(HEATER_JOBS)
    return tuple(job for job in needed if job not in jobs)


def foreign_jobs(
    kind: SensorKind, jobs: Collection[PinJob], *, is_heated: bool
) -> tuple[PinJob, ...]:
    """The terminals of a connector that a sensor of a kind cannot have."""
    foreign = _FOREIGN_JOBS[kind] if is_heated else (*_FOREIGN_JOBS[kind], *HEATER_JOBS)
    return tuple(job for job in foreign if job in jobs)
