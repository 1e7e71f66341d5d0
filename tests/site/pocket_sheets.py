"""The bench sheets of a pocket copy, put together from the words they share as its script does."""

from __future__ import annotations

from typing import Any


def put_together(words: list[str], places: str) -> str:
    """A text from its places in the words, such as ``0-57 900``."""
    ranges = [(run.split("-")[0], run.split("-")[-1]) for run in places.split(" ")]
    return " ".join(" ".join(words[int(low) : int(high) + 1]) for low, high in ranges)


def sheets_of(copy: Any) -> dict[str, str]:
    """The HTML of each sheet in the tree of a pocket copy, by the name of its section."""
    told = [each.get("data-sheets", "") for each in copy.iter() if each.get("id") == "sheets"]
    return {
        part.get("id"): put_together(told[0].split(" "), each.get("data-sheet"))
        for part in copy.iter("section")
        for each in part.iter("div")
        if each.get("data-sheet")
    }
