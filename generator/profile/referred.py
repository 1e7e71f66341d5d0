"""Which declared names a profile refers to, misspelt ones read as what was meant."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from itertools import islice

from generator.profile.finding import nearest

MOST_GUESSED = 100


def referred(names: Iterable[str], declared: Collection[str]) -> set[str]:
    """The declared names that are referred to.

    A misspelt name counts for the one it is near to: it is a finding of its own, and would be told
    twice if the name it meant were called unused as well.
    """
    named = dict.fromkeys(names)
    meant = {name for name in named if name in declared}
    misspelt = (name for name in named if name not in declared)
    # Of more than these the first are told as unknown names, and the profile is read again
    meant.update(filter(None, (nearest(name, declared) for name in islice(misspelt, MOST_GUESSED))))
    return meant
