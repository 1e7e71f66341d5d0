"""The profiles of a folder, read one after another."""

from __future__ import annotations

import gc
import re
from collections.abc import Callable, Container, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from generator.profile.finding import printable
from generator.profile.near_copy import with_near_copies
from generator.profile.reading import ProfileFile, read_profile

_MEANT_AS_PROFILE = re.compile(r"\.ya?ml(\.txt)?$", re.IGNORECASE)
"""Also what an editor or a system named otherwise: passed over in silence, it would be missed."""

Progress = Callable[[int, int], None]
"""Told after each profile: how many are done, of how many."""


def profile_paths(folder: Path) -> list[Path]:
    """The profile files in a folder, in order of name.

    Raises:
        OSError: the folder cannot be read.
    """
    return sorted(path for path in folder.iterdir() if _MEANT_AS_PROFILE.search(path.name))


def read_all(
    paths: Iterable[Path],
    shown_from: Path,
    progress: Progress = lambda done, of: None,
    *,
    is_whole: bool = True,
    known_photos: Container[str] = (),
) -> list[ProfileFile]:
    """Read every profile, and compare them; files are named in findings as seen from a folder.

    ``is_whole`` says that they are a whole collection, so that what none of them has is not there;
    ``known_photos`` are keys of photos that were made into pictures before.
    """
    todo, root = list(paths), shown_from.resolve()
    read = []
    with _garbage_left():
        for done, path in enumerate(todo, start=1):
            read.append(read_profile(path, shown_path(path, root), known_photos))
            progress(done, len(todo))
        return with_near_copies(read, is_whole=is_whole)


@contextmanager
def _garbage_left() -> Iterator[None]:
    """Do not look for garbage: all that is read stays, and looking through it costs a third."""
    enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if enabled:
            gc.enable()


def shown_path(path: Path, shown_from: Path) -> str:
    """A file's name as seen from a folder, or its whole path where it is not inside.

    What a terminal would act on, or cannot show, is a question mark.
    """
    try:
        shown = path.resolve().relative_to(shown_from.resolve()).as_posix()
    except ValueError:
        shown = path.as_posix()
    return printable(shown)
