"""A reading of a known-good sensor is one cold resistance of a heater, above that of the leads.

From such readings a range is made that others measure against, so each is what one meter showed of
one cold sensor, with the leads' own resistance beside it.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Path, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.profile.sensor_model import KnownGood
from generator.trade.heater import AMBIENT_HIGHEST_C, AMBIENT_LOWEST_C


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        at: Path = ("sensors", index, "readings")
        if sensor.readings and not sensor.is_heated:
            yield Fault(
                at,
                "A sensor with one or two wires has no heater to read.",
                "Delete `readings`, or mend `wires`.",
                at_key=True,
            )
        for number, reading in enumerate(sensor.readings):
            yield from _faults((*at, number), reading)


def _faults(at: Path, reading: KnownGood) -> Iterator[Fault]:
    shown, zero, air = reading.resistance, reading.meter_zero, reading.air
    for key, stated in (("resistance", shown), ("meter_zero", zero)):
        if stated and stated.low_ohm != stated.high_ohm:
            yield Fault(
                (*at, key),
                f"`{stated.text}` is a range, and a meter shows one value.",
                "Write each sensor's reading as an entry of its own.",
            )
    if zero and shown.low_ohm <= zero.high_ohm:
        yield Fault(
            (*at, "resistance"),
            f"`{shown.text}` is not above the `{zero.text}` of the meter's leads.",
            "Write in `resistance` what the meter showed, leads included.",
        )
    if not AMBIENT_LOWEST_C <= air.low_c <= AMBIENT_HIGHEST_C:
        yield Fault(
            (*at, "air"),
            f"`{air.text}` is no temperature for a cold heater.",
            f"A reading is corrected from {AMBIENT_LOWEST_C:g} to {AMBIENT_HIGHEST_C:g} °C.",
        )


RULE = Rule("readings", Severity.ERROR, _check)
