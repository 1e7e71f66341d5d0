"""Only a wide-range sensor has a pump current, and its curve rises all the way.

Lambda and the current rise together, the sign of SAE J1979; from a curve that does not rise, no
lambda can be read.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Path, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.trade.sensor import SensorKind
from generator.trade.signal import curve_faults


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        if sensor.curve is None:
            continue
        path: Path = ("sensors", index, "curve")
        if sensor.kind is not SensorKind.WIDE_RANGE:
            yield Fault(
                path,
                f"A {sensor.kind} sensor has no pump current.",
                "Delete `curve`, or mend `kind`.",
                at_key=True,
            )
        for fault in curve_faults(sensor.curve.points):
            at = (*path, "points") if fault.point is None else (*path, "points", fault.point)
            yield Fault(
                at,
                f"{fault.reason[0].upper()}{fault.reason[1:]}.",
                "Write `[lambda, mA]` pairs from rich to lean, both figures rising.",
            )


RULE = Rule("wide-range-curve", Severity.ERROR, _check, of_whole=True)
