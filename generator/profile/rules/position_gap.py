"""Positions should be counted from the first sensor of a bank.

Position 1 is the sensor the exhaust meets first (SAE J2012 numbering): a sensor at position 2 with
none at position 1 is misnumbered, or the one before it is not described yet.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule


def _check(profile: Profile) -> Iterator[Fault]:
    places = {(sensor.bank, sensor.position) for sensor in profile.sensors}
    for index, sensor in enumerate(profile.sensors):
        if sensor.bank not in profile.banks:
            continue  # `unknown-name` tells that one; no sensor is missing in a bank that is not
        before = sensor.position - 1
        if before and (sensor.bank, before) not in places:
            yield Fault(
                ("sensors", index, "position"),
                f"Bank {sensor.bank} has a sensor at position {sensor.position} and none at "
                f"position {before}.",
                "Count positions along the exhaust from 1, or describe the missing sensor too.",
            )


RULE = Rule("position-gap", Severity.WARNING, _check)
