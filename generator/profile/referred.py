"""Which declared names a profile refers to, misspelt ones read as what was meant."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from generator.profile.finding import nearest


def referred(names: Iterable[str], declared: Collection[str]) -> set[str]:
    """The declared names that are referred to.

    A misspelt name counts for the one it is near to: it is a finding of its own, and would be told
    twice if the name it meant were called unused as well.
    """
    meant = set()
    for name in names:
        near = name if name in declared else nearest(name, declared)
        if near is not None:
            meant.add(near)
    return meant
