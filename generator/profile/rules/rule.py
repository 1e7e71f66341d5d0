"""A rule: something about a whole profile that no single field can know."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile


@dataclass(frozen=True, slots=True)
class Rule:
    """A named check of a profile: ``check`` yields a fault for each place that breaks it.

    ``of_whole`` marks one that argues from what is not there, or from a word that mending may have
    had to invent: a profile that does not read as it stands is not held to it.
    """

    name: str
    severity: Severity
    check: Callable[[Profile], Iterator[Fault]]
    of_whole: bool = False
