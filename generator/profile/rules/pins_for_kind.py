"""A sensor's connector should have the terminals its kind needs and none it cannot have.

Common practice, no source: a wide-range sensor has a pump and no signal of its own, the others a
signal and no pump. The guide says which terminals an ohmmeter may touch, so this must fit.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.trade.connector import PinJob
from generator.trade.sensor_wiring import foreign_jobs, missing_jobs

_MEND = "Mend the jobs under `connectors`, the sensor's `kind` and `wires`, or its `face`."


def _check(profile: Profile) -> Iterator[Fault]:
    told = set()
    for index, sensor in enumerate(profile.sensors):
        plug = sensor.connector
        face = profile.connectors.get(plug.face) if plug else None
        # Sensors alike on connectors alike have one fault between them
        if plug is None or face is None or (sensor.kind, sensor.is_heated, plug.face) in told:
            continue
        told.add((sensor.kind, sensor.is_heated, plug.face))
        jobs = {pin.job for pin in face.pins.values()}
        missing = missing_jobs(sensor.kind, jobs, is_heated=sensor.is_heated)
        foreign = foreign_jobs(sensor.kind, jobs, is_heated=sensor.is_heated)
        if missing or foreign:
            heated = "a heated" if sensor.is_heated else "an unheated"
            yield Fault(
                ("sensors", index, "connector", "face"),
                f"`{plug.face}` does not fit {heated} {sensor.kind} sensor: "
                f"{_reason(missing, foreign)} (common practice, no source).",
                _MEND,
            )


def _reason(missing: Collection[PinJob], foreign: Collection[PinJob]) -> str:
    reasons = []
    if missing:
        reasons.append(f"it has no {' and no '.join(missing)} terminal")
    if foreign:
        reasons.append(f"it has a {' and a '.join(foreign)} terminal")
    return ", and ".join(reasons)


RULE = Rule("pins-for-kind", Severity.WARNING, _check, of_whole=True)
