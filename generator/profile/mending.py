"""A faulty profile mended in a copy, so that the rules find the rest in the same run."""

from __future__ import annotations

import re
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from generator.profile.finding import nearest
from generator.profile.model import Profile
from generator.profile.tree import Data

_MOST_ROUNDS = 6
# obstacles / engine-cover / minutes: above that depth stand the things others refer to
_SHALLOWEST_DETAIL = 3
_EXPECTED = re.compile(r"'([^']*)'")
_UNREAD_PARTS: dict[str, Data] = {
    "format": "2",
    "status": "published",
    "vehicle": {"make": "-", "model": "-", "years": "2000"},
    "steering": ["left"],
    "photos": [],
    "notes": [],
}
_UNREAD_KEYS: dict[tuple[str, str], Data] = {
    ("engine", "name"): "-",
    ("sources", "title"): "-",
    ("sources", "kind"): "maker",
    ("obstacles", "name"): "-",
    ("fuses", "box"): "-",
    ("fuses", "number"): "-",
    ("sensors", "kind"): "switching",
    ("sensors", "place"): {"where": "-", "reach": "above"},
}
"""What no rule reads, by its part and its key, and what can stand there instead."""


def mended(data: dict[str, Data]) -> Profile | None:
    """The profile with what no rule reads filled in, words mended and faulty details left out.

    None where that would take away something others refer to by name or number: the rules would
    then complain of what is not wrong.
    """
    copy = {**_copied(data), **_UNREAD_PARTS}
    for _ in range(_MOST_ROUNDS):
        try:
            return Profile.model_validate(copy)
        except ValidationError as error:
            hopeful = [_mend(copy, each) for each in error.errors(include_url=False)]
            if not all(hopeful):
                return None
    return None


def expected_words(error: ErrorDetails) -> list[str]:
    """The words of which one was wanted; empty when it was not about words."""
    return _EXPECTED.findall(str(error.get("ctx", {}).get("expected", "")))


def _copied(data: Data) -> Any:
    if isinstance(data, dict):
        return {key: _copied(value) for key, value in data.items()}
    return [_copied(item) for item in data] if isinstance(data, list) else data


def _mend(data: Any, error: ErrorDetails) -> bool:
    """Mend one error in place, and say whether that could be done."""
    steps = [step for step in error["loc"] if step != "[key]"]
    holder, last = _holder(data, steps), steps[-1]
    if holder is None:
        return True  # It stood in something left out earlier in this round
    if error["type"] == "extra_forbidden":
        holder.pop(last, None)
        return True
    sources = data.get("sources")
    if last == "source" and isinstance(holder, dict) and isinstance(sources, dict) and sources:
        # It names a source, if badly: that it has none would be a second, wrong finding
        holder[last] = next(iter(sources))
        return True
    near = nearest(str(error["input"]), expected_words(error))
    if near:
        holder[last] = near
        return True
    unread = _UNREAD_KEYS.get((str(steps[0]), str(last)))
    if unread is not None and isinstance(holder, dict):
        holder[last] = unread
        return True
    if error["type"] == "missing":
        steps.pop()
    return _leave_out(data, steps)


def _leave_out(data: Any, steps: list[int | str]) -> bool:
    """Delete the optional detail that a path leads to, if it is one."""
    # What a terminal does decides what the rules say of its whole connector, a side of the layout
    if "pins" in steps or (steps[:1] == ["banks"] and steps[-1] == "side"):
        return False
    while len(steps) >= _SHALLOWEST_DETAIL:
        holder = _holder(data, steps)
        if isinstance(holder, dict):
            holder.pop(steps[-1], None)
            if steps[0] == "sensors" and steps[-1] == "thread":
                # It is stated, if badly: its torque must not be judged as that of an unstated one
                holder.pop("torque", None)
            return True
        # An item of a list goes with its list, a value in short form with its key
        steps.pop()
    return False


def _holder(data: Any, steps: list[int | str]) -> Any:
    for step in steps[:-1]:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            return None
    return data
