"""The way to a value of a profile in words that outlive an edit of the file."""

from __future__ import annotations

from generator.profile.finding import Path
from generator.profile.tree import Data


def way(path: Path, data: Data) -> str:
    """A path as a person writes it: ``sensors.bank-1-position-2.torque``.

    A sensor goes by its bank and position, so that another one described before it changes nothing.
    Entries of other lists are counted from 1.
    """
    steps: list[str] = []
    for step in path:
        if isinstance(data, list) and isinstance(step, int):
            data = data[step] if step < len(data) else None
            steps.append((_sensor(data) if steps == ["sensors"] else "") or str(step + 1))
        else:
            data = data.get(str(step)) if isinstance(data, dict) else None
            steps.append(str(step))
    return ".".join(steps)


def _sensor(data: Data) -> str:
    if not isinstance(data, dict):
        return ""
    bank, position = data.get("bank"), data.get("position")
    both = isinstance(bank, str) and isinstance(position, str)
    return f"bank-{bank}-position-{position}" if both else ""


def leads_to(at: str | None, goal: str) -> bool:
    """Whether a way is that of a value, or of a part that holds it; None is the whole profile."""
    return at is None or f"{goal}.".startswith(f"{at.strip()}.")
