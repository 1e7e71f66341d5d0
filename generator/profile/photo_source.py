"""Where the photos of profiles are read from: a folder, or a revision of its history in git."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Protocol

from generator.profile.git_run import GitFailed, git
from generator.profile.photo_file import LARGEST_BYTES, PhotoRefused, photo_content, too_large

_PLAIN_FILES = ("100644", "100755")
_SHA256_LETTERS = 64


class PhotoSource(Protocol):
    """Gives photos by the name that a profile has for them."""

    def object_name(self, file: str) -> str | None:
        """The name that git has for the content of a photo, where it is known without reading."""
        ...

    def content(self, file: str) -> bytes:
        """The bytes of a photo.

        Raises:
            PhotoRefused: it is missing, is no plain file, or is too large.
        """
        ...


@dataclass(frozen=True, slots=True)
class NoPhotos:
    """In place of photos, where only the text of a profile is at hand."""

    def object_name(self, file: str) -> str | None:
        """None."""
        return None

    def content(self, file: str) -> bytes:
        """Never anything."""
        raise PhotoRefused("photo-missing", f"`{file}` is not at hand.", "Compare folders.")


@dataclass(frozen=True, slots=True)
class FolderPhotos:
    """The photos below a folder, as they are now."""

    folder: Path

    def object_name(self, file: str) -> str | None:
        """None: a file has no name in git before it is read."""
        return None

    def content(self, file: str) -> bytes:
        """The bytes of a photo."""
        return photo_content(self.folder, file)


@dataclass(frozen=True)
class RevisionPhotos:
    """The photos below a folder as it was; ``tree`` is the folder as git names it."""

    tree: str

    def object_name(self, file: str) -> str | None:
        """The name of the photo's content."""
        return self._files[file][0] if file in self._files else None

    def content(self, file: str) -> bytes:
        """The bytes of a photo."""
        if file not in self._files:
            raise PhotoRefused(
                "photo-missing",
                f"There is no file `{file}` beside the profile at that revision.",
                "Commit the photo together with the profile.",
            )
        name, size = self._files[file]
        if size > LARGEST_BYTES:
            raise too_large(file)
        return git("cat-file", "blob", name)

    @cached_property
    def _files(self) -> dict[str, tuple[str, int]]:
        """The plain files below the folder: what git calls each, and its bytes; links are none."""
        try:
            listed = git("ls-tree", "--full-tree", "-r", "-z", "--long", self.tree)
        except GitFailed:
            return {}
        found = {}
        for entry in listed.split(b"\0"):
            about, _, name = entry.decode("utf-8", "replace").partition("\t")
            if about.startswith(_PLAIN_FILES):
                _mode, _kind, oid, size = about.split()
                found[name] = (oid, int(size))
        return found


def is_same_photo(file: str, one: PhotoSource, other: PhotoSource) -> bool:
    """Whether a photo is the same at two places, which is known of two revisions at no cost."""
    names = one.object_name(file), other.object_name(file)
    if all(names):
        return names[0] == names[1]
    known = names[0] or names[1]
    letters = len(known) if known else 0
    return _name_in_git(file, one, letters) == _name_in_git(file, other, letters)


def _name_in_git(file: str, source: PhotoSource, letters: int) -> str:
    """What git calls a photo's content, in a repository with names so long; or why it has none.

    Source of the formula: git's own documentation of `hash-object`, over ``blob``, size and bytes.
    """
    if known := source.object_name(file):
        return known
    try:
        content = source.content(file)
    except PhotoRefused as error:
        return f"{error.rule} {error.message}"
    method = hashlib.sha256 if letters == _SHA256_LETTERS else hashlib.sha1
    return method(b"blob %d\0" % len(content) + content).hexdigest()
