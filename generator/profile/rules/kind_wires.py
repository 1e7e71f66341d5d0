"""A sensor should have as many wires as its kind needs.

Common practice, no source: switching one to four, wide-range four to six, titania three or four.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.trade.sensor_wiring import WIRES


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        span = WIRES[sensor.kind]
        if not span.fewest <= sensor.wires <= span.most:
            wires = "1 wire" if sensor.wires == 1 else f"{sensor.wires} wires"
            yield Fault(
                ("sensors", index, "wires"),
                f"A {sensor.kind} sensor has {span.fewest} to {span.most} wires (common "
                f"practice, no source), and this one {wires}.",
                "Count them where the cable leaves the sensor, or mend `kind`.",
            )


RULE = Rule("kind-wires", Severity.WARNING, _check, of_whole=True)
