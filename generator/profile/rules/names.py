"""A name referred to must be declared: obstacles, connectors, fuses, sources, banks.

A misspelt name would lose what it stands for: the obstacle would not come off, the value would have
no source.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from generator.profile.finding import Fault, Path, Severity, did_you_mean
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule


def _check(profile: Profile) -> Iterator[Fault]:
    for name, obstacle in profile.obstacles.items():
        for index, above in enumerate(obstacle.under):
            path: Path = ("obstacles", name, "under", index)
            yield from _known(path, above, profile.obstacles, "obstacles")
    for index, sensor in enumerate(profile.sensors):
        at: Path = ("sensors", index)
        if sensor.bank not in profile.banks:
            banks = " and ".join(str(number) for number in profile.banks)
            yield Fault(
                (*at, "bank"),
                f"There is no bank {sensor.bank}.",
                f"Declared under `banks`: {banks}.",
            )
        for number, obstacle_name in enumerate(sensor.behind):
            path = (*at, "behind", number)
            yield from _known(path, obstacle_name, profile.obstacles, "obstacles")
        if sensor.connector:
            path = (*at, "connector", "face")
            yield from _known(path, sensor.connector.face, profile.connectors, "connectors")
        if sensor.fuse:
            yield from _known((*at, "fuse"), sensor.fuse, profile.fuses, "fuses")
    for path, source in profile.source_references():
        yield from _known(path, source, profile.sources, "sources")


def _known(path: Path, name: str, declared: Collection[str], where: str) -> Iterator[Fault]:
    if name not in declared:
        hint = did_you_mean(name, declared)
        yield Fault(
            path,
            f"`{name}` is not declared under `{where}`.",
            hint or f"Declare it under `{where}`, or mend the name.",
        )


RULE = Rule("unknown-name", Severity.ERROR, _check)
