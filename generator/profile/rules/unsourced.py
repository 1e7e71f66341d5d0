"""A specification should say where it comes from; without that, its page says so.

A number that nobody can look up is worth less: the next owner cannot tell a maker's figure from a
memory of one.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.profile.finding import Fault, Severity
from generator.profile.model import Profile
from generator.profile.part import Stated
from generator.profile.rules.rule import Rule


def _check(profile: Profile) -> Iterator[Fault]:
    for path, stated in profile.specifications():
        if stated.source is None:
            yield Fault(
                path,
                f"`{stated.value.text}` has no source.",
                f"{_mend(stated)}, with a name declared under `sources`.",
            )


def _mend(stated: Stated[Any]) -> str:
    if stated.model_fields_set > {"value"}:
        return "Add `source: ...` beside it"
    return f"Write `{{value: {stated.value.text}, source: ...}}`"


RULE = Rule("unsourced", Severity.WARNING, _check)
