"""A published folder that is only ever replaced by a complete new one."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

from generator.site.data_files import CATALOGUE_FILE


class NotASite(Exception):
    """The folder to publish in holds something else; the message is a sentence."""


class Publication:
    """A build under way beside the published folder, to take its place once it is complete.

    The published folder may be missing, and may be a link: then what it leads to is replaced. The
    two renames of a swap are not one: for that instant there is no folder. A process killed right
    there leaves the old one beside, and the next build begins by putting it back.
    """

    def __init__(self, published: Path) -> None:
        """Make an empty folder beside ``published``, after mending what a killed build left.

        Raises:
            NotASite: something stands there that no build has written; it would be deleted.
            OSError: the folder's parent cannot be written.
        """
        self.published = published.resolve()
        self.folder = _beside(self.published, "new")
        self._old = _beside(self.published, "old")
        self.published.parent.mkdir(parents=True, exist_ok=True)
        _mend(self.published)
        _hold_to_a_site(self.published)
        self.folder.mkdir()

    def swap(self) -> None:
        """Put the new folder in the place of the published one; hidden files there are kept.

        Hidden files are those of the folder's owner, such as ``.git``: no build makes them.

        Raises:
            OSError: the folder cannot be replaced; then the old one stays.
        """
        if self.published.exists():
            shutil.copymode(self.published, self.folder)
            try:
                self.published.rename(self._old)
                self.folder.rename(self.published)
            except BaseException:
                if self._old.exists() and not self.published.exists():
                    self._old.rename(self.published)
                raise
            _put_away(self._old, self.published)
        else:
            self.folder.rename(self.published)

    def drop(self) -> None:
        """Delete the unfinished build; the published folder is as it was."""
        shutil.rmtree(self.folder, ignore_errors=True)


def _hold_to_a_site(published: Path) -> None:
    """See that what a build takes the place of is a build, or nothing that anybody would miss."""
    if not published.exists():
        return
    if not published.is_dir():
        raise NotASite(f"{published} is a file, not a folder: name another with site_dir or -d.")
    is_empty = all(path.name.startswith(".") for path in published.iterdir())
    if not is_empty and not (published / CATALOGUE_FILE).is_file():
        raise NotASite(
            f"{published} holds files that are not of a built site, and a build would delete them: "
            "name another folder with site_dir or -d, or delete them yourself."
        )


def _beside(published: Path, which: str, process: int | str | None = None) -> Path:
    return published.with_name(f"{published.name}.{which}-{process or os.getpid()}")


def _put_away(old: Path, published: Path) -> None:
    """Delete a folder that was replaced, after moving its hidden files over."""
    for path in old.iterdir():
        if path.name.startswith(".") and not (published / path.name).exists():
            path.rename(published / path.name)
    shutil.rmtree(old, ignore_errors=True)


def _mend(published: Path) -> None:
    """Put back, or away, what builds that were killed left beside the folder."""
    for old in _left_over(published, "old"):
        if published.exists():
            _put_away(old, published)
        else:
            old.rename(published)
    for new in _left_over(published, "new"):
        shutil.rmtree(new, ignore_errors=True)


def _left_over(published: Path, which: str) -> Iterator[Path]:
    start = _beside(published, which, "-").name.removesuffix("-")
    for path in sorted(published.parent.iterdir()):
        process = path.name.removeprefix(start)
        if path.name.startswith(start) and process.isdecimal() and not _runs(int(process)):
            yield path


def _runs(process: int) -> bool:
    """Whether a process of that number runs on this machine."""
    if process == os.getpid():
        return False
    try:
        os.kill(process, 0)
    except PermissionError:
        return True
    except (ProcessLookupError, OverflowError):
        return False
    return True
