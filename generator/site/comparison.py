"""What changes on the published pages between two states of the profiles, value by value.

Nothing here knows which key goes to which page. Both states are built and compared; to tell what
one value does, the older state is built once more with that value alone changed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from gettext import NullTranslations
from typing import Any

from generator.guide.catalogue import by_make
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.profile.difference import Difference, differences, with_only, without
from generator.profile.finding import Finding
from generator.profile.model import Profile
from generator.profile.photo_file import PhotoFile, judged
from generator.profile.reading import checked
from generator.profile.revision import Stand
from generator.profile.way import way
from generator.site.collection import Collection
from generator.site.computed import computed_values
from generator.site.page_change import (
    Kind,
    PageChange,
    Published,
    changed_paths,
    page_changes,
)
from generator.site.photo_change import (
    PhotoChange,
    PhotoSide,
    photo_changes,
    with_photo_only,
    without_photo,
)
from generator.site.profile_state import (
    ProfileState,
    faults_of,
    is_same,
    renamed_slugs,
    states,
    warnings_between,
)
from generator.site.renderer import Renderer

MOST_ALONE = 60
"""More values than these are not looked at one by one: each takes a build of its vehicle."""


@dataclass(frozen=True, slots=True)
class Effect:
    """Something computed that comes out otherwise; empty where there is nothing to compute."""

    what: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class ValueChange:
    """One value, and what it does by itself; ``pages`` is None where it does nothing alone."""

    difference: Difference
    effects: tuple[Effect, ...]
    pages: tuple[str, ...] | None


@dataclass(frozen=True, slots=True)
class StatedValue:
    """A specification of a new vehicle; ``source`` is empty where it names none."""

    at: str
    value: str
    source: str


@dataclass(frozen=True, slots=True)
class VehicleChange:
    """What became of one vehicle.

    ``stated`` are the specifications of a new one. ``was`` is its slug before it was renamed.
    ``faults`` are sentences that say what was not built, on which side, and why. ``warnings`` are
    those of the check that come, and ``settled`` those that go.
    """

    kind: Kind
    slug: str
    name: str
    was: str = ""
    stated: tuple[StatedValue, ...] = ()
    values: tuple[ValueChange, ...] = ()
    photos: tuple[PhotoChange, ...] = ()
    effects: tuple[Effect, ...] = ()
    pages: tuple[PageChange, ...] = ()
    faults: tuple[str, ...] = ()
    warnings: tuple[Finding, ...] = ()
    settled: tuple[Finding, ...] = ()
    fails: bool = False


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two states of the profiles: what they are called, how many there are, what changes."""

    old: str
    new: str
    profiles: int
    vehicles: tuple[VehicleChange, ...]
    pages: tuple[PageChange, ...] = ()
    """Pages of no single vehicle: the lists, the fault codes."""

    @property
    def fails(self) -> bool:
        """Whether a profile of the newer state cannot be built."""
        return any(each.fails for each in self.vehicles)


def compared(old: Stand, new: Stand, renderer: Renderer) -> Comparison:
    """What changes from one state to the other; both are files, or both are collections.

    Vehicles come by slug, and the values of each by the first page that they change.
    """
    if old.is_file:
        (name,), (content,) = new.contents, old.contents.values()
        old = replace(old, contents={name: content})
    before = states(old)
    after = states(new, before)
    renamed = {} if new.is_file else renamed_slugs(before, after)
    comparer = _Comparer(renderer)
    vehicles = [
        comparer.vehicle(slug, was := renamed.get(slug, slug), before.get(was), after.get(slug))
        for slug in sorted({*before, *after} - set(renamed.values()))
        if slug in renamed or not is_same(before.get(slug), after.get(slug))
    ]
    pages = [] if new.is_file else comparer.site_pages(before, after)
    count = len({*before, *after} - set(renamed.values()))
    return Comparison(old.shown_as, new.shown_as, count, tuple(vehicles), tuple(pages))


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of a vehicle: as read, its photos, what is wrong with others, and as built."""

    read: ProfileState | None
    photos: Mapping[str, PhotoFile]
    refused: tuple[Finding, ...]
    built: _Built | None

    @property
    def with_photos(self) -> PhotoSide | None:
        """The profile and its photos, where there is one."""
        profile = self.read.file.profile if self.read else None
        return PhotoSide(profile, self.photos) if profile else None


@dataclass(frozen=True, slots=True)
class _Built:
    """A vehicle built on one side: its pages, and what is computed for it."""

    name: str
    pages: Published
    computed: Mapping[str, str]


class _Comparer:
    """Builds and compares vehicles with one renderer."""

    def __init__(self, renderer: Renderer) -> None:
        self._renderer = renderer
        self._t = renderer.translations

    def site_pages(
        self, before: Mapping[str, ProfileState], after: Mapping[str, ProfileState]
    ) -> list[PageChange]:
        """The pages of no single vehicle that differ."""
        return page_changes(*(self._site_pages(read) for read in (before, after)))

    def vehicle(
        self, slug: str, was: str, old: ProfileState | None, new: ProfileState | None
    ) -> VehicleChange:
        """What became of one vehicle."""
        kind = Kind.RENAMED if slug != was else Kind.CHANGED
        if old is None or new is None:
            kind = Kind.NEW if old is None else Kind.REMOVED
        # Under one slug, so that a rename does not make every page another one
        before, after = self._side(slug, old), self._side(slug, new)
        built = after.built or before.built
        warnings, settled = warnings_between(old, new)
        change = VehicleChange(
            kind,
            slug,
            built.name if built else "",
            was if slug != was else "",
            faults=(*faults_of(old, new, self._t), *_photo_faults(before, after, self._t)),
            warnings=warnings,
            settled=settled,
            fails=new is not None and (new.file.profile is None or bool(after.refused)),
        )
        if new and kind is Kind.NEW and after.built:
            change = replace(change, stated=tuple(_stated(new)))
        if old and new:
            change = replace(change, **self._parts(slug, before, after))
        if old and new and not (before.built and after.built):
            return change
        none = Published((), self._renderer)
        sides = (each.built.pages if each.built else none for each in (before, after))
        return replace(change, pages=tuple(page_changes(*sides)))

    def _side(self, slug: str, read: ProfileState | None) -> _Side:
        """A side with its photos; one that is refused is only missing on its page."""
        if read is None:
            return _Side(None, {}, (), None)
        photos, refused = judged(read.file.named_photos, read.photos.content)
        built = self._built(slug, read.file.profile, photos)
        return _Side(read, photos, tuple(refused), built)

    def _parts(self, slug: str, before: _Side, after: _Side) -> dict[str, Any]:
        """The values and photos of a vehicle that differ, and what follows from all together."""
        assert before.read and after.read
        old, new = before.read.data, after.read.data
        found = differences(old, new) if old is not None and new is not None else []
        if not (before.built and after.built):
            return {"values": tuple(ValueChange(each, (), None) for each in found)}
        # Photos are told by file and step, not by their number in a list
        found = [each for each in found if each.at.partition(".")[0] != "photos"]
        assert before.with_photos and after.with_photos
        photos = photo_changes(before.with_photos, after.with_photos)
        if len(found) + len(photos) > MOST_ALONE:
            values = [ValueChange(each, (), None) for each in found]
        else:
            values = [self._value(slug, each, before, after) for each in found]
            photos = [self._photo(slug, each, before, after) for each in photos]
        order = {p: n for n, p in enumerate((*after.built.pages.pages, *before.built.pages.pages))}
        values.sort(key=lambda each: order[each.pages[0]] if each.pages else len(order))
        effects = _effects(before.built, after.built)
        return {"values": tuple(values), "photos": tuple(photos), "effects": effects}

    def _value(self, slug: str, difference: Difference, before: _Side, after: _Side) -> ValueChange:
        assert before.read and after.read and before.built and after.built
        old, new = before.read.data, after.read.data
        made = self._built(slug, checked(with_only(old, new, difference)), before.photos)
        if made:
            return _alone(difference, before.built, made)
        undone = self._built(slug, checked(without(old, new, difference)), after.photos)
        return (
            _alone(difference, undone, after.built) if undone else ValueChange(difference, (), None)
        )

    def _photo(self, slug: str, change: PhotoChange, before: _Side, after: _Side) -> PhotoChange:
        assert before.built and after.built and before.with_photos and after.with_photos
        sides = before.with_photos, after.with_photos
        if made := with_photo_only(*sides, change):
            pair = before.built, self._built(slug, made.profile, made.files)
        elif undone := without_photo(*sides, change):
            pair = after.built, self._built(slug, undone.profile, undone.files)
        else:
            return change
        assert pair[1]
        return replace(change, pages=tuple(changed_paths(pair[0].pages, pair[1].pages)))

    def _built(
        self, slug: str, profile: Profile | None, photos: Mapping[str, PhotoFile]
    ) -> _Built | None:
        if profile is None:
            return None
        vehicle = Vehicle(slug, profile, self._t, photos=photos)
        pages = Published(vehicle_pages(vehicle), self._renderer)
        return _Built(vehicle.name, pages, computed_values(vehicle))

    def _site_pages(self, read: Mapping[str, ProfileState]) -> Published:
        vehicles = (
            Vehicle(slug, each.file.profile, self._t)
            for slug, each in read.items()
            if each.file.profile
        )
        return Published(Collection(by_make(vehicles), self._t).site_pages(), self._renderer)


def _stated(new: ProfileState) -> Iterator[StatedValue]:
    """What a profile specifies, in its order, with what the source of each is called."""
    profile = new.file.profile
    assert profile and new.data is not None
    for path, specified in profile.specifications():
        source = profile.sources.get(specified.source or "")
        told = (
            ", ".join(filter(None, (source.title, source.edition, source.locator)))
            if source
            else ""
        )
        at = getattr(specified, "at", None)
        value = f"{specified.value.text} ({at.text})" if at else specified.value.text
        yield StatedValue(way(path, new.data), value, told)


def _alone(difference: Difference, before: _Built, after: _Built) -> ValueChange:
    """What lies between two builds that one value tells apart."""
    paths = changed_paths(before.pages, after.pages)
    return ValueChange(difference, _effects(before, after), tuple(paths))


def _effects(before: _Built, after: _Built) -> tuple[Effect, ...]:
    old, new = before.computed, after.computed
    return tuple(
        Effect(what, old.get(what, ""), new.get(what, ""))
        for what in dict.fromkeys((*old, *new))
        if old.get(what, "") != new.get(what, "")
    )


def _photo_faults(before: _Side, after: _Side, t: NullTranslations) -> Iterator[str]:
    """What was built without some of its photos: what is refused of both is said of the newer."""
    _ = t.gettext
    of_newer = {each.message for each in after.refused}
    for finding in before.refused:
        if finding.message not in of_newer:
            said = _("The older pages are built without a photo: %(reason)s")
            yield said % {"reason": finding.message}
    for finding in after.refused:
        said = _("The newer profile fails its check, and is built without a photo: %(reason)s")
        yield said % {"reason": finding.message}
