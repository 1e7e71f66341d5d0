"""Profiles as they stand now, or as they stood at a revision of their history in git."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import Final

from generator.profile.folder import profile_paths
from generator.profile.git_run import GitFailed, git
from generator.profile.photo_source import FolderPhotos, NoPhotos, PhotoSource, RevisionPhotos
from generator.profile.source_text import LARGEST_BYTES

_SUFFIXES = (".yml", ".yaml")
_TOO_LARGE: Final = bytes(LARGEST_BYTES + 1)
"""In place of a content that the check refuses for its size, and which is not fetched."""
_LINK = "120000"


class NoProfiles(Exception):
    """There is nothing to read under a name; the message is one sentence."""


@dataclass(frozen=True, slots=True)
class Stand:
    """One profile, or a whole collection: contents by file name, and whether it is one file.

    ``photos`` are those that lie beside the profiles.
    """

    shown_as: str
    contents: Mapping[str, bytes]
    is_file: bool
    photos: PhotoSource = field(default_factory=NoPhotos)


def stand(name: str, collection: Path) -> Stand:
    """What a name means: a profile, a folder, or either of them at a revision.

    A file or folder that is there goes first. ``REVISION:PATH`` is a path from the top of the
    repository, or from here with ``./`` before it; ``REVISION`` alone is the collection then.

    Raises:
        NoProfiles: it is none of them, or git cannot be run.
        OSError: a file cannot be read.
    """
    path = Path(name)
    if path.is_dir():
        contents = {each.name: _content(each) for each in profile_paths(path)}
        return Stand(name, contents, False, FolderPhotos(path))
    if path.exists():
        return Stand(name, {path.name: _content(path)}, True, FolderPhotos(path.parent))
    revision, colon, inside = name.partition(":")
    if not colon and path.suffix in _SUFFIXES:
        raise NoProfiles(f"there is no file {name}.")
    return _at_revision(name, revision, inside if colon else _from_here(collection))


def _content(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(LARGEST_BYTES + 1)


def _from_here(folder: Path) -> str:
    """A folder as git names it, inside a revision."""
    if not folder.is_absolute():
        return f"./{folder.as_posix()}"
    top = Path(_git("rev-parse", "--show-toplevel").decode().strip())
    try:
        return folder.resolve().relative_to(top.resolve()).as_posix()
    except ValueError:
        raise NoProfiles(f"{folder} is not inside the repository {top}.") from None


def _at_revision(name: str, revision: str, inside: str) -> Stand:
    try:
        commit = _git(
            "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}"
        )
    except NoProfiles:
        _git("rev-parse", "--git-dir")
        raise NoProfiles(f"{name} is no file, no folder and no revision.") from None
    at = f"{commit.decode().strip()}:{inside}"
    try:
        kind = _git("cat-file", "-t", at).decode().strip()
    except NoProfiles:
        raise NoProfiles(f"there is no {inside} at the revision {revision}.") from None
    if kind == "blob":
        found = {PurePosixPath(inside).name: _git("rev-parse", "--verify", at).decode().strip()}
        return Stand(name, _contents(found), True, RevisionPhotos(_parent(commit, inside)))
    return Stand(name, _contents(_listed(at)), False, RevisionPhotos(at))


def _parent(commit: bytes, inside: str) -> str:
    """The folder of a file, as git names it, inside a revision."""
    folder = inside.rpartition("/")[0]
    return f"{commit.decode().strip()}:{folder}{'/' if folder == '.' else ''}"


def _listed(tree: str) -> dict[str, str]:
    """The profiles in a folder of a revision: object names by file name."""
    found = {}
    for entry in _git("ls-tree", "--full-tree", "-z", tree).split(b"\0"):
        about, _, name = entry.decode("utf-8", "replace").partition("\t")
        if PurePosixPath(name).suffix in _SUFFIXES:
            mode, kind, oid = about.split()
            if kind == "blob" and mode != _LINK:
                found[name] = oid
    return dict(sorted(found.items()))


def _contents(oids: Mapping[str, str]) -> dict[str, bytes]:
    """The contents of objects, all in two calls; one that is too large is never fetched."""
    asked = "".join(f"{oid}\n" for oid in oids.values()).encode()
    sizes = [
        int(line.split()[2])
        for line in _git("cat-file", "--batch-check", asked=asked).split(b"\n")
        if line
    ]
    wanted = [oid for oid, size in zip(oids.values(), sizes, strict=True) if size <= LARGEST_BYTES]
    told = _git("cat-file", "--batch", asked="".join(f"{oid}\n" for oid in wanted).encode())
    by_oid: dict[str, bytes] = {}
    while told:
        head, _, rest = told.partition(b"\n")
        oid, _kind, size = head.decode().split()
        by_oid[oid], told = rest[: int(size)], rest[int(size) + 1 :]
    return {name: by_oid.get(oid, _TOO_LARGE) for name, oid in oids.items()}


def _git(*arguments: str, asked: bytes = b"") -> bytes:
    try:
        return git(*arguments, asked=asked)
    except GitFailed as error:
        raise NoProfiles(str(error)) from None
