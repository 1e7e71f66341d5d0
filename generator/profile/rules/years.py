"""The model years should be those of one vehicle that can have an exhaust sensor.

The first cars with one were sold in 1976 (from memory), and hardly any model is made unchanged for
thirty years (common practice, no source): a digit is more likely to have slipped.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule

FIRST_YEAR = 1976
LONGEST_SPAN = 30


def _check(profile: Profile) -> Iterator[Fault]:
    years = profile.vehicle.years
    if years.first < FIRST_YEAR:
        yield Fault(
            ("vehicle", "years"),
            f"`{years.text}` begins before {FIRST_YEAR}, when the first cars with an exhaust "
            "sensor were sold.",
            "Mend the year, or say in `notes` what was fitted later.",
        )
    elif years.last is not None and years.last - years.first > LONGEST_SPAN:
        yield Fault(
            ("vehicle", "years"),
            f"`{years.text}` spans {years.last - years.first} years, more than the {LONGEST_SPAN} "
            "that one model lasts.",
            "Mend the years, or write one profile for each generation.",
        )


RULE = Rule("years", Severity.WARNING, _check)
