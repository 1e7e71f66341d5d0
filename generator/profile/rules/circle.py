"""Obstacles must not lie under one another in a circle.

Of two parts that each lie under the other, neither could come off first. One of the two is wrong.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.trade.access import under_circle


def _check(profile: Profile) -> Iterator[Fault]:
    if circle := under_circle(profile.under):
        yield Fault(
            ("obstacles", circle[0], "under"),
            f"These lie under one another in a circle: {' under '.join(circle)}.",
            "Say which of them comes off first, and take it out of the other's `under`.",
        )


RULE = Rule("circle", Severity.ERROR, _check)
