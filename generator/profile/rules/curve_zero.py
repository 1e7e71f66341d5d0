"""A wide-range sensor's pump current should be 0 at lambda 1.

By SAE J1979's sign it is positive lean and negative rich, so it passes 0 between them; a measured
curve may miss lambda 1 by a little (how much: common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.profile.sensor_model import Curve
from generator.trade.signal import curve_faults, pump_current_ma

TOLERANCE_MA = 0.05


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        if sensor.curve is None or curve_faults(sensor.curve.points):
            continue
        if reason := _reason(sensor.curve):
            yield Fault(
                ("sensors", index, "curve", "points"),
                reason,
                "Compare the points with your source: is the first figure lambda, the second mA, "
                "positive lean?",
            )


def _reason(curve: Curve) -> str:
    leanest, richest = curve.points[-1][0], curve.points[0][0]
    if not richest <= 1 <= leanest:
        return f"The curve runs from lambda {richest:g} to {leanest:g} and does not pass lambda 1."
    current_ma = pump_current_ma(curve.points, 1.0)
    if abs(current_ma) <= TOLERANCE_MA:
        return ""
    return (
        f"The curve gives {current_ma:.2g} mA at lambda 1, where the pump current is 0, "
        f"give or take {TOLERANCE_MA:g} mA (common practice, no source)."
    )


RULE = Rule("curve-zero", Severity.WARNING, _check)
