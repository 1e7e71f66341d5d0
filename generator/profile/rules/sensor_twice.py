"""A bank and position name one sensor.

Fault codes name a sensor by bank and position (SAE J2012); two under one name cannot be told apart.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule


def _check(profile: Profile) -> Iterator[Fault]:
    seen: set[tuple[int, int]] = set()
    for index, sensor in enumerate(profile.sensors):
        if (sensor.bank, sensor.position) in seen:
            yield Fault(
                ("sensors", index, "position"),
                f"Bank {sensor.bank}, position {sensor.position} is described twice.",
                "Mend the bank or the position of one of the two.",
            )
        seen.add((sensor.bank, sensor.position))


RULE = Rule("sensor-twice", Severity.ERROR, _check)
