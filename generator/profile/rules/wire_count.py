"""A sensor's connector should have as many terminals as the sensor has wires.

Otherwise one of the two is from another sensor. A connector may have an empty place; it has no
terminal in it, and is left out of `pins`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        face = profile.connectors.get(sensor.connector.face) if sensor.connector else None
        if face and len(face.pins) != sensor.wires:
            yield Fault(
                ("sensors", index, "wires"),
                f"The sensor has {sensor.wires} wires and its connector "
                f"{len(face.pins)} terminals.",
                "Mend one of the two.",
            )


RULE = Rule("wire-count", Severity.WARNING, _check)
