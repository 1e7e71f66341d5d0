"""An obstacle should be in the way of a sensor, itself or by what lies under it.

One that no sensor needs is on no page: its sensor was forgotten, or it is left over.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.referred import referred
from generator.profile.rules.rule import Rule


def _check(profile: Profile) -> Iterator[Fault]:
    declared = profile.obstacles
    needed: set[str] = set()
    found = referred((name for each in profile.sensors for name in each.behind), declared)
    while found:
        needed |= found
        above = (name for each in found for name in declared[each].under)
        found = referred(above, declared) - needed
    for name in declared:
        if name not in needed:
            yield Fault(
                ("obstacles", name),
                f"No sensor is behind `{name}`, and nothing that hides one lies under it.",
                "Name it under `behind` of the sensor it hides, or delete it.",
                at_key=True,
            )


RULE = Rule("unused-obstacle", Severity.WARNING, _check, of_whole=True)
