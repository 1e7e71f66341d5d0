"""What became of the photos of a vehicle between two states of its profile, photo by photo."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import dataclass

from generator.profile.guide_model import Photo
from generator.profile.model import Profile
from generator.profile.photo_file import PhotoFile
from generator.profile.rules.photo_place import photo_places
from generator.site.page_change import Kind

TRAITS = ("file", "at", "caption", "shows")
"""What a profile says of a photo, by its key."""


@dataclass(frozen=True, slots=True)
class PhotoSide:
    """The photos of one side: the profile that names them, and those of its files that are sound.

    ``files`` go by the name of the file.
    """

    profile: Profile
    files: Mapping[str, PhotoFile]


@dataclass(frozen=True, slots=True)
class PhotoChange:
    """A photo on both sides, None where it is not; they differ in what is said or in the picture.

    ``pages`` are those that this photo alone changes, None where it does nothing alone.
    """

    before: Photo | None
    after: Photo | None
    picture_before: PhotoFile | None
    picture_after: PhotoFile | None
    pages: tuple[str, ...] | None = None

    @property
    def kind(self) -> Kind:
        """What became of it."""
        if self.before is None:
            return Kind.NEW
        return Kind.REMOVED if self.after is None else Kind.CHANGED

    @property
    def file(self) -> str:
        """Its file, by its newer name."""
        photo = self.after or self.before
        return photo.file if photo else ""

    @property
    def traits(self) -> list[tuple[str, str, str]]:
        """What is said of it otherwise than before: the key, before, after; empty where nothing."""
        found = []
        for key in TRAITS:
            sides = [str(getattr(photo, key)) if photo else "" for photo in self._sides]
            if sides[0] != sides[1] and not (key == "file" and "" in sides):
                found.append((key, sides[0], sides[1]))
        return found

    @property
    def is_another_picture(self) -> bool:
        """Whether the pixels are not those of before."""
        return self.picture_before != self.picture_after

    @property
    def _sides(self) -> tuple[Photo | None, Photo | None]:
        return self.before, self.after


def photo_changes(old: PhotoSide, new: PhotoSide) -> list[PhotoChange]:
    """Every photo that differs: in the order of the newer profile, then those that are gone."""
    both = _matched(old, new)
    pairs = [(both.get(n), photo) for n, photo in enumerate(new.profile.photos)]
    kept = {id(before) for before, _ in pairs}
    gone = [(each, None) for each in old.profile.photos if id(each) not in kept]
    found = (
        PhotoChange(before, after, _picture(old, before), _picture(new, after))
        for before, after in (*pairs, *gone)
    )
    return [each for each in found if each.traits or each.is_another_picture]


def with_photo_only(old: PhotoSide, new: PhotoSide, only: PhotoChange) -> PhotoSide | None:
    """The older side with this one photo as it is now; None where it has no place there."""
    return _swapped(old, new, only.before, only.after)


def without_photo(old: PhotoSide, new: PhotoSide, left_out: PhotoChange) -> PhotoSide | None:
    """The newer side with this one photo as it was; None where it has no place there."""
    return _swapped(new, old, left_out.after, left_out.before)


def _swapped(
    side: PhotoSide, other: PhotoSide, own: Photo | None, others: Photo | None
) -> PhotoSide | None:
    photos = [others if each is own else each for each in side.profile.photos]
    if own is None:
        photos.append(others)
    profile = side.profile.model_copy(update={"photos": [each for each in photos if each]})
    if others and others.at not in set(photo_places(profile)):
        return None
    files = dict(side.files)
    if others:
        files.pop(others.file, None)
        if others.file in other.files:
            files[others.file] = other.files[others.file]
    return PhotoSide(profile, files)


def _picture(side: PhotoSide, photo: Photo | None) -> PhotoFile | None:
    return side.files.get(photo.file) if photo else None


def _matched(old: PhotoSide, new: PhotoSide) -> dict[int, Photo]:
    """The older photo of each newer one, by its number: what they share most surely goes first."""

    def key_of(side: PhotoSide, photo: Photo) -> str | None:
        picture = _picture(side, photo)
        return picture.key if picture else None

    signs: tuple[Callable[[PhotoSide, Photo], Hashable | None], ...] = (
        lambda _, photo: (photo.file, photo.at),
        lambda _, photo: photo.file,
        key_of,
        lambda _, photo: (photo.at, photo.caption),
    )
    found: dict[int, Photo] = {}
    for sign in signs:
        taken = {id(photo) for photo in found.values()}
        left = [photo for photo in old.profile.photos if id(photo) not in taken]
        by_sign = _first_by((sign(old, photo), photo) for photo in left)
        for number, photo in enumerate(new.profile.photos):
            wanted = sign(new, photo)
            if number not in found and wanted is not None and wanted in by_sign:
                found[number] = by_sign.pop(wanted)
    return found


def _first_by(
    pairs: Iterable[tuple[Hashable | None, Photo]],
) -> dict[Hashable, Photo]:
    found: dict[Hashable, Photo] = {}
    for sign, photo in pairs:
        if sign is not None:
            found.setdefault(sign, photo)
    return found
