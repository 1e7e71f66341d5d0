"""A sensor after a catalyst needs that catalyst.

Position 2 stands after the first one, position 3 after the second (SAE J2012 numbering; that they
are parted by catalysts is common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule

_COUNTS = ("no catalyst", "1 catalyst", "2 catalysts", "3 catalysts")


def _check(profile: Profile) -> Iterator[Fault]:
    for index, sensor in enumerate(profile.sensors):
        bank = profile.banks.get(sensor.bank)
        if bank is None or bank.catalysts >= sensor.position - 1:
            continue
        yield Fault(
            ("sensors", index, "position"),
            f"Position {sensor.position} stands after {_COUNTS[sensor.position - 1]}, and bank "
            f"{sensor.bank} has {_COUNTS[bank.catalysts]}.",
            f"Mend the position, or `catalysts` of bank {sensor.bank}.",
        )


RULE = Rule("position-without-catalyst", Severity.WARNING, _check, of_whole=True)
