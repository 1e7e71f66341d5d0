"""A cold resistance is specified at a temperature of the air, not of a hot sensor.

A hot heater has 3 to 4 times the resistance of a cold one (common practice, no source), so a figure
for a hot one, read as a cold one's, would condemn every good sensor.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.trade.heater import AMBIENT_HIGHEST_C, AMBIENT_LOWEST_C


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        stated = sensor.cold_resistance
        if stated and not AMBIENT_LOWEST_C <= stated.at.low_c <= AMBIENT_HIGHEST_C:
            yield Fault(
                ("sensors", index, "heater", "resistance", "at"),
                f"`{stated.at.text}` is no temperature for a cold heater.",
                f"The range is computed from {AMBIENT_LOWEST_C:g} to "
                f"{AMBIENT_HIGHEST_C:g} °C; a resistance of a hot heater belongs in "
                "`notes`.",
            )


RULE = Rule("reference-temperature", Severity.ERROR, _check)
