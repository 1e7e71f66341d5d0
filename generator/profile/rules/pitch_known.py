"""A thread should have a pitch that its diameter is made with.

Pitches of ISO 262 by an open table, of ISO 261 beyond it from memory; those only widen what is
accepted.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.profile.fields import Thread
from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.rules.rule import Rule
from generator.profile.threaded import threaded
from generator.trade.threads import PITCHES_MM, nearest_diameters


def _check(profile: Profile) -> Iterator[Fault]:
    for part in threaded(profile):
        if part.thread is None:
            yield Fault(
                (*part.path, "thread"),
                _reason(part.stated),
                "Compare it with your source, or measure it with a thread gauge.",
            )


def _reason(stated: Thread) -> str:
    pitches = PITCHES_MM.get(stated.diameter_mm)
    if pitches is None:
        near = " or ".join(f"M{each:g}" for each in nearest_diameters(stated.diameter_mm))
        return f"`{stated.text}` has no common diameter: {near} would be the nearest."
    made = ", ".join(f"{pitch:g}" for pitch in pitches)
    return (
        f"`{stated.text}` has a pitch that M{stated.diameter_mm:g} is not made with: "
        f"{made} mm (ISO 261 and 262)."
    )


RULE = Rule("pitch-known", Severity.WARNING, _check)
