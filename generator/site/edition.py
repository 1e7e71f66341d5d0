"""What holds for a whole site at once, as far as the files around its guides depend on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.site.photos import PhotoPress


@dataclass(frozen=True, slots=True)
class Edition:
    """One build of a site: its name, its language, its day and address, the folders of its theme.

    `built` is a day, ``2026-03-08``, or empty; `address` ends in a slash, or is empty.
    """

    site_name: str
    language: str
    theme: Sequence[Path]
    built: str = ""
    address: str = ""
    has_pocket: bool = False
    photos: PhotoPress | None = None
    """What makes the pictures of the vehicles' photos; without it, there are none to make."""
