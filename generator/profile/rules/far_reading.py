"""A reading of a known-good sensor far outside the specification is more likely a slip."""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.profile.sensor_model import KnownGood, Sensor
from generator.trade.heater import (
    AMBIENT_HIGHEST_C,
    AMBIENT_LOWEST_C,
    Element,
    ResistanceRange,
    condemning_range,
    expected_range,
    rounded_to_step,
)

FAR = 0.25
"""A quarter beyond a limit: our choice, no source. Good sensors do lie a little outside."""


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        for number, reading in enumerate(sensor.readings):
            allowed = _allowed(sensor, reading)
            if allowed is None:
                continue
            zero_ohm = reading.meter_zero.low_ohm if reading.meter_zero else 0.0
            corrected_ohm = reading.resistance.low_ohm - zero_ohm
            far_below = corrected_ohm < allowed.low_ohm * (1 - FAR)
            if far_below or corrected_ohm > allowed.high_ohm * (1 + FAR):
                shown = rounded_to_step(allowed, 0.1)
                side = "below" if far_below else "above"
                yield Fault(
                    ("sensors", index, "readings", number, "resistance"),
                    f"`{reading.resistance.text}` is far {side} the specification, "
                    f"{shown.low_ohm:g} to {shown.high_ohm:g} ohm at {reading.air.text}.",
                    "Look for a slip in the number, another sensor, the wrong terminals, a sensor "
                    "still warm; if it is none of these, leave it as it is.",
                )


def _allowed(sensor: Sensor, reading: KnownGood) -> ResistanceRange | None:
    """What may be read at the temperature of a reading, or None where nothing says."""
    stated = sensor.cold_resistance
    if stated is None:
        return None
    if not all(
        AMBIENT_LOWEST_C <= t_c <= AMBIENT_HIGHEST_C for t_c in (reading.air.low_c, stated.at.low_c)
    ):
        return None
    specified = ResistanceRange(stated.value.low_ohm, stated.value.high_ohm)
    element = sensor.heater.element if sensor.heater else Element.UNKNOWN
    expected = expected_range(specified, stated.at.low_c, reading.air.low_c, element)
    return condemning_range(specified, expected)


RULE = Rule("far-reading", Severity.WARNING, _check)
