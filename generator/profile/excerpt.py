"""Contributed text in a sentence of ours: no more of it than shows which text is meant."""

from __future__ import annotations

LONGEST_NAMED = 60


def excerpt(text: str, most: int) -> str:
    """A text of at most so many characters, or its beginning and three dots."""
    return text if len(text) <= most else f"{text[:most].rstrip()} …"


def named(text: object) -> str:
    """A text between the marks that our sentences put round what a profile says."""
    shown = excerpt(str(text).replace("`", "'"), LONGEST_NAMED)
    return f"`{shown}`"
