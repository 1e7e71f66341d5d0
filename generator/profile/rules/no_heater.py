"""A sensor of one or two wires has no heater to specify or to fuse.

One wire carries the signal and a second one its ground, so that none is left (common practice, no
source). A heater test on such a sensor would measure its cell.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        if sensor.is_heated:
            continue
        for key in ("heater", "fuse"):
            if getattr(sensor, key) is not None:
                yield Fault(
                    ("sensors", index, key),
                    "A sensor with one or two wires has no heater.",
                    f"Delete `{key}`, or mend `wires`.",
                    at_key=True,
                )


RULE = Rule("no-heater", Severity.ERROR, _check)
