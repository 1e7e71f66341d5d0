"""A source, connector or fuse that is declared should be referred to.

One that nothing refers to is on no page: a value lost its source, or a sensor its fuse.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.referred import referred
from generator.profile.rules.rule import Rule


def _check(profile: Profile) -> Iterator[Fault]:
    sensors = profile.sensors
    yield from _unused(
        "sources",
        profile.sources,
        (source for _, source in profile.source_references()),
        "`source` of the values it states",
    )
    yield from _unused(
        "connectors",
        profile.connectors,
        (each.connector.face for each in sensors if each.connector),
        "`connector: {face: ...}` of a sensor",
    )
    yield from _unused(
        "fuses",
        profile.fuses,
        (each.fuse for each in sensors if each.fuse),
        "`fuse` of the sensors it feeds",
    )


def _unused(
    part: str, declared: Collection[str], names: Iterable[str], where: str
) -> Iterator[Fault]:
    used = referred(names, declared)
    for name in declared:
        if name not in used:
            yield Fault(
                (part, name),
                f"Nothing refers to `{name}`.",
                f"Name it as {where}, or delete it.",
                at_key=True,
            )


RULE = Rule("unused-name", Severity.WARNING, _check, of_whole=True)
